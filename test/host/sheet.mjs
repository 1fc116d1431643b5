// The reading sheet as hands and eyes have it: its frame in the workbench, and what is done there.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** A sheet that is open in the active tab. */
export class Sheet {
  constructor(bench, frame) {
    this.bench = bench;
    this.page = bench.page;
    this.frame = frame;
    this.input = frame.locator('.entry input');
    this.said = frame.locator('.entry .said');
    this.rows = frame.locator('.grid tbody tr[aria-rowindex]');
  }

  /** Opens a file of the workspace as text, puts the cursor somewhere, and goes on to its sheet. */
  static async open(bench, name, line = 1, column = 1) {
    await bench.openFile(name);
    // A file that was last seen in the sheet opens there again.
    const text = bench.page.locator('.editor-group-container.active .editor-instance .monaco-editor').first();
    const isText = await bench.until(`${name} in an editor`, async () =>
      (await text.isVisible()) ? { is: true } : (await Sheet.front(bench)) && { is: false },
    );
    if (!isText.is) await bench.command('Nitbook: Open as Text');
    await bench.goTo(line, column);
    await bench.command('Nitbook: Open in Reading Sheet');
    return Sheet.shown(bench, name);
  }

  /** The sheet that is in front now, once it has the keyboard. */
  static async shown(bench) {
    const sheet = new Sheet(bench, await bench.until('the sheet', () => Sheet.front(bench)));
    await bench.until('the keyboard in the sheet', () => sheet.frame.evaluate(() => document.hasFocus()));
    return sheet;
  }

  /** The frame of the sheet that can be seen. */
  static async front(bench) {
    for (const frame of bench.page.frames()) {
      if (frame === bench.page.mainFrame()) continue;
      const sheets = await frame
        .locator('.sheet')
        .count()
        .catch(() => 0);
      if (sheets > 0 && (await (await frame.parentFrame()?.frameElement())?.isVisible())) return frame;
    }
    return undefined;
  }

  row(text) {
    return this.frame.locator('.grid tbody tr', { hasText: text }).first();
  }

  /** The first row of a level. */
  level(level) {
    return this.frame.locator('.grid tbody tr', { has: this.frame.locator(`td.key:text-is("${level}")`) }).first();
  }

  /** The texts of the cells of a row, by its place in the run. */
  async cells(index) {
    const row = this.frame.locator(`.grid tr[aria-rowindex="${index + 2}"]`);
    return (await row.locator('td').allInnerTexts()).map((text) => text.trim());
  }

  async focus() {
    await this.input.click();
  }

  /** Types a reading, so long between keys, and goes on to the next one. */
  async enter(text, delay = 0) {
    await this.page.keyboard.type(text, { delay });
    await this.page.keyboard.press('Enter');
  }

  /** Where typing goes: `30 %` and the column. */
  async place() {
    return (await this.input.getAttribute('aria-label')) ?? '';
  }

  /** Waits until nothing that was typed is still on its way. */
  settled() {
    return this.bench.until('all written', async () => (await this.frame.locator('.grid td.sent, .grid td.typing').count()) === 0);
  }
}

/** A session with a greyscale of as many levels to take, in equal steps. */
export const greyscale = (levels, eol = '\n') =>
  [
    'nitbook 1',
    '',
    'session 2026-03-14',
    '  title: a run to take',
    'meter probe',
    '  kind: colorimeter',
    '  floor: 0.003 cd/m2',
    '  spread: 0.0004 xy, 0.5 %',
    'signal sdr',
    '  range: limited',
    '  depth: 10',
    'mode cinema "Cinema, as shipped"',
    '  .input: HDMI 1',
    'target dark',
    '  space: bt709',
    '  curve: power 2.4',
    '  white: d65',
    '  luminance: 120 cd/m2',
    '',
    'greyscale grey "As shipped"',
    '  mode: cinema',
    '    level   Y         x        y',
    ...levels.map((level) => `${String(level).padStart(10)}  ?         ?        ?`),
    '# the end',
    '',
  ].join(eol);

/** What a meter would show of a level, in the digits that are typed. */
export const reading = (level) =>
  level === 0
    ? ['<0.003', '-', '-']
    : [String(Number((120 * (level / 100) ** 2.4).toPrecision(4))), (0.3127 + level / 100000).toFixed(4), '0.3290'];

export const write = (folder, name, text) => writeFileSync(join(folder, name), text);
export const read = (folder, name) => readFileSync(join(folder, name), 'utf8');
