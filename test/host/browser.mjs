// Chromium, and a page object for the workbench: what a person does with keys and mouse, and what they then see.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium as playwright } from 'playwright-core';
import { chromium, root } from './setup.mjs';

export const shots = join(root, '.cache/host/shots');

const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking'];

export function launch() {
  return playwright.launch({ executablePath: chromium(), args: [...flags, '--disable-component-update', '--disable-sync'] });
}

/** The colour themes that VS Code ships, and the class that its workbench then carries. */
export const themes = {
  dark: { label: 'Dark Modern', css: 'vs-dark' },
  light: { label: 'Light Modern', css: 'vs' },
  'high-contrast': { label: 'Dark High Contrast', css: 'hc-black' },
  'high-contrast-light': { label: 'Light High Contrast', css: 'hc-light' },
};

/** Non-breaking spaces, which the editor paints for blanks, as blanks. */
/**
 * Whether an error was thrown by the workbench's own frame around a webview, which stumbles when its page is replaced while the one before
 * is still loading. What a page of ours throws has a script of ours in its stack.
 */
const isOfFrame = ({ stack = '' }) => {
  const calls = stack.split('\n').filter((line) => /^\s+at /.test(line));
  return calls.length > 0 && calls.every((call) => call.includes('/webview/browser/pre/'));
};

const plain = (text) => text.replaceAll('\u00a0', ' ');

export class Workbench {
  static #open = new Set();

  static #lookedAt = new Set();

  /** Takes pictures of all that is open when a test has failed; the first to ask has them, before it tidies up. */
  static async lookAtFailed(test) {
    if (test.state !== 'failed' || Workbench.#lookedAt.has(test)) return;
    Workbench.#lookedAt.add(test);
    let index = 0;
    for (const each of Workbench.#open) await each.screenshot(`failed-${test.title} ${++index}`).catch(() => undefined);
  }

  static async closeAll() {
    for (const each of Workbench.#open) await each.close();
  }

  /** Opens `folder` in a page of its own. `prepare` sees the page before it loads. */
  static async open(browser, host, { folder, width = 1400, height = 900, prepare, waitFor = '.explorer-folders-view .monaco-list-row' }) {
    const context = await browser.newContext({ viewport: { width, height }, permissions: ['clipboard-read', 'clipboard-write'] });
    context.setDefaultTimeout(20_000);
    const page = await context.newPage();
    const workbench = new Workbench(page, host);
    Workbench.#open.add(workbench);
    await prepare?.(page);
    await page.goto(`${host.base}/?folder=${encodeURIComponent(folder)}`, { waitUntil: 'domcontentloaded' });
    await page.locator(waitFor).first().waitFor({ timeout: 60_000 });
    return workbench;
  }

  /** Requests to anywhere but this server: there should be none. */
  offOrigin = [];
  /** Uncaught exceptions of the page. */
  errors = [];

  constructor(page, host) {
    this.page = page;
    this.host = host;
    this.quick = page.locator('.quick-input-widget:visible');
    page.on('request', (request) => {
      const url = new URL(request.url());
      // Files of a webview have a host of their own, which its service worker answers for: nothing leaves the page.
      const ofWebview = url.host.endsWith('.vscode-resource.vscode-cdn.net');
      if (url.protocol.startsWith('http') && url.host !== host.authority && !ofWebview) this.offOrigin.push(request.url());
    });
    page.on('pageerror', (error) => {
      if (!isOfFrame(error)) this.errors.push(`${error}\n${error.stack}`);
    });
  }

  close() {
    Workbench.#open.delete(this);
    return this.page.context().close();
  }

  /** The texts of the hover that this element has. Where the element moved from under the pointer meanwhile, and something else tells of itself, once more. */
  tooltip(element) {
    const hovers = this.page.locator('.monaco-hover:visible .hover-contents');
    return this.until('its tooltip', async () => {
      await this.page.mouse.move(640, 5);
      if ((await hovers.count()) > 0) return undefined;
      await element.hover();
      await hovers.first().waitFor({ state: 'visible', timeout: 3000 });
      const texts = await hovers.allInnerTexts();
      return (await element.evaluate((it) => it.matches(':hover'))) && texts.length > 0 && texts;
    });
  }

  /** Tries until `test` gives something truthy, which it returns. */
  async until(what, test, timeout = 20_000) {
    const end = Date.now() + timeout;
    let last;
    while (Date.now() < end) {
      try {
        last = undefined;
        const value = await test();
        if (value) return value;
      } catch (error) {
        last = error;
      }
      await this.page.waitForTimeout(100);
    }
    throw new Error(`Not within ${timeout / 1000} s: ${what}`, { cause: last });
  }

  /** Waits until all that `check` asserts holds: a page draws in a turn of its own. Fails with the last that did not. */
  async holds(check, timeout = 20_000) {
    let failure;
    await this.until(
      'what is asserted',
      async () => {
        failure = undefined;
        await check().catch((error) => {
          failure = error;
        });
        return !failure;
      },
      timeout,
    ).catch((late) => {
      throw failure ?? late;
    });
  }

  /** Opens a quick input and fills it. A webview that has just opened takes the focus back and closes it: so verify, and try again. */
  async openQuick(key, text) {
    const input = this.quick.locator('input.input').first();
    for (let attempt = 0; attempt < 8; attempt++) {
      await this.page.keyboard.press(key);
      try {
        await input.waitFor({ state: 'visible', timeout: 2000 });
        await input.fill(text, { timeout: 1000 });
        await this.page.waitForTimeout(150);
        if ((await input.inputValue({ timeout: 1000 })) === text) return;
      } catch {
        // Closed under our hands.
      }
      await this.page.keyboard.press('Escape');
      await this.page.waitForTimeout(250);
    }
    throw new Error(`The quick input for "${text}" did not stay open.`);
  }

  /** Chooses an entry of an open quick pick. */
  async pick(label) {
    await this.quick.locator('.monaco-list-row', { hasText: label }).first().click();
  }

  /** Runs a command of the palette by its full label, "Category: Title". */
  async command(label) {
    await this.openQuick('F1', `>${label}`);
    await this.pick(label);
    // A command may ask a question of its own in the same place.
    const input = this.quick.locator('input.input');
    await this.until(`${label} is chosen`, async () => !(await input.isVisible()) || !(await input.inputValue()).startsWith('>'));
  }

  async openFile(name) {
    // Of names that are alike, the one that is meant need not be the first; and a file that was just written is not found at once.
    const exactly = new RegExp(`^${name.replace(/[.]/g, '\\$&')}$`);
    const row = this.quick.locator('.monaco-list-row', { has: this.page.locator('.label-name', { hasText: exactly }) }).first();
    await this.until(`${name} among the files`, async () => {
      await this.openQuick('Control+P', name);
      try {
        await row.click({ timeout: 3000 });
        return true;
      } catch {
        await this.page.keyboard.press('Escape');
        return false;
      }
    });
    await this.tab(name).waitFor();
  }

  tab(name) {
    return this.page.locator('.tab', { hasText: name }).first();
  }

  isDirty(name) {
    return this.page
      .locator('.tab.dirty', { hasText: name })
      .count()
      .then((count) => count > 0);
  }

  /** The lines that the active editor shows now, from its top, without the hints behind them; scrolled-off lines are not among them. */
  async visibleLines() {
    const lines = await this.page.locator('.editor-group-container.active .monaco-editor .view-line').evaluateAll((all) =>
      all
        .map((line) => [line.getBoundingClientRect().top, line.querySelectorAll(':scope > span > span:not([class*="dyn-rule"])')])
        .sort(([a], [b]) => a - b)
        .map(([, spans]) => Array.from(spans, (span) => span.textContent).join('')),
    );
    return lines.map(plain);
  }

  /** The classes of the colours that the active editor shows; one of them is the plain text. */
  async colours() {
    const spans = this.page.locator('.editor-group-container.active .monaco-editor .view-line span span');
    return new Set(await spans.evaluateAll((all) => all.flatMap((span) => [...span.classList].filter((name) => /^mtk\d+$/.test(name)))));
  }

  /** The cursor's place as the status bar tells it, counted from 1. */
  async position() {
    const text = await this.page.locator('#status\\.editor\\.selection').textContent();
    const [, line, column] = /(\d+)\D+(\d+)/.exec(text ?? '') ?? [];
    return { line: Number(line), column: Number(column) };
  }

  /** Puts the cursor at a place in the active editor (both counted from 1) and the focus into its text. */
  async goTo(line, column = 1) {
    // A busy workbench may not have read the place yet when Enter comes: then the input stays, or leads elsewhere.
    await this.until(`the cursor in line ${line}`, async () => {
      await this.openQuick('Control+G', `:${line}:${column}`);
      await this.page.keyboard.press('Enter');
      await this.quick.waitFor({ state: 'hidden', timeout: 2000 });
      return this.until('it to be said', async () => (await this.position()).line === line, 2000);
    });
    await this.page.locator('.editor-group-container.active .monaco-editor.focused').waitFor();
    // Until it knows that it is closed, the quick input takes Enter for its own.
    await this.page.waitForTimeout(100);
  }

  async typeAt(line, column, text) {
    await this.goTo(line, column);
    await this.page.keyboard.type(text, { delay: 20 });
  }

  undo() {
    return this.page.keyboard.press('Control+Z');
  }

  async save(name) {
    await this.page.keyboard.press('Control+S');
    await this.until(`${name} is saved`, async () => !(await this.isDirty(name)));
  }

  /** The underlined places of the active editor: 'error', 'warning' or 'info'. */
  squiggles(severity) {
    return this.page.locator(`.editor-group-container.active .squiggly-${severity}`);
  }

  /** The language that the status bar names. */
  async language() {
    return (await this.page.locator('#status\\.editor\\.mode').textContent())?.trim();
  }

  /** The rows of the Problems view that hold `text`; opens the view. Clicking one goes to its place. */
  async problems(text) {
    const panel = this.page.locator('.markers-panel');
    if (!(await panel.isVisible())) {
      await this.command('View: Focus Problems');
      await panel.waitFor();
    }
    return panel.locator('.monaco-list-row', { hasText: text });
  }

  /** Shows what is said of the place of the cursor, and leaves it open. */
  async hover() {
    const hover = this.page.locator('.monaco-hover:visible', { has: this.page.locator('.hover-contents') }).first();
    await this.until('a hover', async () => {
      await this.page.keyboard.press('Control+K');
      await this.page.keyboard.press('Control+I');
      await hover.waitFor({ timeout: 2000 });
      return true;
    });
    return hover;
  }

  /** What the quick fix menu offers at the cursor, as labels. Leaves the menu open. */
  async quickFixes() {
    const rows = this.page.locator('.action-widget .monaco-list-row.action');
    await this.until('the quick fix menu', async () => {
      await this.page.keyboard.press('Control+.');
      await rows.first().waitFor({ timeout: 2000 });
      return true;
    });
    return (await rows.allInnerTexts()).map((label) => plain(label).trim());
  }

  async quickFix(label) {
    const offered = await this.quickFixes();
    const row = this.page.locator('.action-widget .monaco-list-row.action', { hasText: label });
    if ((await row.count()) !== 1) throw new Error(`"${label}" is not one of the quick fixes: ${offered.join(' / ')}`);
    await row.click();
    await row.waitFor({ state: 'hidden' });
  }

  /** The frame of the webview whose page holds `selector`. The workbench nests the extension's page two frames deep. */
  webviewFrame(selector) {
    return this.until(`a webview with ${selector}`, async () => {
      for (const frame of this.page.frames()) {
        if (frame === this.page.mainFrame()) continue;
        const count = await frame
          .locator(selector)
          .count()
          .catch(() => 0);
        if (count > 0) return frame;
      }
      return undefined;
    });
  }

  async notifications() {
    return (await this.page.locator('.notifications-toasts .notification-list-item-message').allInnerTexts()).map(plain);
  }

  /** Chooses one of `themes`, for every page of this server. */
  async theme(name) {
    const { label, css } = themes[name];
    await this.command('Preferences: Color Theme');
    // The list may come after its filter is written, and then takes no notice of it.
    await this.until(`the theme ${label}`, async () => {
      await this.quick.locator('input.input').fill('', { timeout: 1000 });
      await this.quick.locator('input.input').fill(label, { timeout: 1000 });
      await this.quick.locator('.monaco-list-row', { hasText: label }).first().click({ timeout: 2000 });
      return true;
    });
    await this.page.locator(`.monaco-workbench.${css}`).waitFor();
    await this.quick.waitFor({ state: 'hidden' });
  }

  async screenshot(name) {
    mkdirSync(shots, { recursive: true });
    const path = join(shots, `${name.replace(/[^\w.-]+/g, '-')}.png`);
    await this.page.screenshot({ path });
    return path;
  }
}
