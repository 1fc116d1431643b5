import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const read = (path: string) => JSON.parse(readFileSync(path, 'utf8'));
const manifest = read('package.json');
const words: Readonly<Record<string, string>> = read('package.nls.json');
const { contributes } = manifest;

describe('The manifest', () => {
  it('says every word that it leaves to translation, and no other is kept', () => {
    const used = [...JSON.stringify(manifest).matchAll(/"%([^%"]+)%"/g)].map(([, key]) => key!);
    expect([...new Set(used)].sort()).toEqual(Object.keys(words).sort());
  });

  it('leaves every word that a reader sees to translation, but for its name', () => {
    const shown = /"(?:description|markdownDescription|title|label|displayName|name|contextualTitle)":("(?:[^"\\]|\\.)*")/g;
    const texts = [...JSON.stringify({ ...contributes, description: manifest.description }).matchAll(shown)].map(([, text]) => text!);
    expect(texts.length).toBeGreaterThan(40);
    // The name of a problem matcher is what tasks call it by.
    expect(texts.filter((text) => !/^"(?:%[\w.]+%|[Nn]itbook)"$/.test(text))).toEqual([]);
  });

  it('names files that exist', () => {
    const named = [...JSON.stringify({ ...contributes, words, icon: `./${manifest.icon}` }).matchAll(/"(\.\/[^"]+)"/g)].map(
      ([, path]) => path!,
    );
    expect(named.length).toBeGreaterThan(5);
    expect(named.filter((path) => !existsSync(path))).toEqual([]);
  });

  it('wakes the extension for sessions only', () => {
    expect(manifest.activationEvents).toEqual(['workspaceContains:**/*.nitbook']);
  });

  it('works in folders that nobody trusts, in virtual ones, and in the browser', () => {
    expect(manifest.capabilities).toEqual({ untrustedWorkspaces: { supported: true }, virtualWorkspaces: true });
    expect(manifest.browser).toMatch(/^\.\/dist\/web\//);
  });

  it('puts icons above sessions only, one each way between sheet and text, binds no keys, and shows commands for sessions only', () => {
    const icons: readonly { command: string; when: string }[] = contributes.menus['editor/title'];
    for (const { when } of icons) expect(when).toMatch(/resourceLangId == nitbook|activeCustomEditorId == nitbook/);
    const inSheet = icons.filter(({ when }) => when.includes('activeCustomEditorId == nitbook.sheet'));
    expect(inSheet.map(({ command }) => command)).toEqual(['nitbook.openText']);
    const inText = icons.filter(({ when }) => when.includes('activeCustomEditorId != nitbook.sheet'));
    expect(inText.map(({ command }) => command)).toContain('nitbook.openSheet');
    expect(contributes.keybindings).toBeUndefined();
    const inPalette: readonly { command: string; when: string }[] = contributes.menus.commandPalette;
    const commands: readonly { command: string }[] = contributes.commands;
    expect(inPalette.map(({ command }) => command).sort()).toEqual(commands.map(({ command }) => command).sort());
    // These two need no session: one makes the first, the other is about a whole folder.
    const anywhere = ['nitbook.newSession', 'nitbook.filterSessions'];
    for (const { command, when } of inPalette) {
      if (command === 'nitbook.publish') expect(when).toBe('editorLangId == markdown && nitbook.active');
      else if (!anywhere.includes(command)) expect(when).toMatch(/editorLangId == nitbook|activeCustomEditorId == nitbook/);
    }
  });
});
