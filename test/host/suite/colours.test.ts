import { assert } from 'chai';
import * as vscode from 'vscode';
import { openText } from './tools';

/** `text: type modifiers` of each token. */
async function tokens(document: vscode.TextDocument): Promise<string[]> {
  const legend = await vscode.commands.executeCommand<vscode.SemanticTokensLegend>(
    'vscode.provideDocumentSemanticTokensLegend',
    document.uri,
  );
  const { data } = await vscode.commands.executeCommand<vscode.SemanticTokens>('vscode.provideDocumentSemanticTokens', document.uri);
  const found: string[] = [];
  let line = 0;
  let character = 0;
  for (let i = 0; i < data.length; i += 5) {
    const [lines, characters, length, type, set] = [...data.slice(i, i + 5)] as [number, number, number, number, number];
    line += lines;
    character = lines > 0 ? characters : character + characters;
    const modifiers = legend.tokenModifiers.filter((_, bit) => set & (1 << bit));
    found.push([`${document.lineAt(line).text.slice(character, character + length)}:`, legend.tokenTypes[type], ...modifiers].join(' '));
  }
  return found;
}

describe('Colours where a grammar cannot tell', () => {
  it('part own names from those of the format, keys from readings, and what is not read', async () => {
    const { document } = await openText(
      'nitbook 1\nmode a\n  .input: HDMI 1\n  Gamma: 2.4\nmode b from a\n  .input: HDMI 2\n  Gamma: ~\ngreyscale g\n  modes: a\n    level   Y  hum\n        20  1  2\n',
    );
    assert.deepEqual(await tokens(document), [
      '.input: nitbookProperty',
      'Gamma: nitbookOwnName',
      '.input: nitbookProperty overriding',
      'Gamma: nitbookOwnName removing',
      'modes: nitbookUnread',
      'level: nitbookKey',
      'hum: nitbookUnread',
    ]);
  });
});
