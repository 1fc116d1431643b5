import { assert } from 'chai';
import * as vscode from 'vscode';
import { hoverAt } from '../../../src/language/hover';
import { openFile, openText, placeOf, settledOf, until } from './tools';

const hovers = (document: vscode.TextDocument, position: vscode.Position): Thenable<vscode.Hover[]> =>
  vscode.commands.executeCommand('vscode.executeHoverProvider', document.uri, position);

/** The Markdown of what the extension says of a place; its own hovers alone, which come with a range. */
async function shown(document: vscode.TextDocument, position: vscode.Position): Promise<vscode.MarkdownString> {
  const found = await hovers(document, position);
  assert.lengthOf(found, 1);
  assert.lengthOf(found[0]!.contents, 1);
  return found[0]!.contents[0] as vscode.MarkdownString;
}

describe('A hover', () => {
  for (const [what, marker] of [
    ['a row', /30 {2}6\.\d+/],
    ['a property', 'settle'],
    ['a column', 'window  Y'],
    ['a measure in limits', 'greyscale.de.max'],
    ['a mode where it is named', 'cinema\n  target: dark'],
  ] as const) {
    it(`on ${what} says what the core knows, and runs nothing`, async () => {
      const { document } = await openFile('aurora-55.nitbook');
      const at = document.offsetAt(placeOf(document, marker).start) + 1;
      const expected = hoverAt(settledOf(document), at)!.parts.join('\n\n');
      let markdown = await shown(document, document.positionAt(at));
      // The answer of a busy machine may still be that of the numbers alone.
      await until('the hover with intervals', async () => {
        markdown = await shown(document, document.positionAt(at));
        return markdown.value === expected;
      }).catch(() => assert.equal(markdown.value, expected));
      assert.notOk(markdown.isTrusted);
      assert.notOk(markdown.supportHtml);
    });
  }

  it('on a row and on a measure says the interval, and why a verdict is open', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const at = (marker: string | RegExp) => placeOf(document, marker).start.translate(0, 1);
    const says = (marker: string | RegExp, what: RegExp) =>
      until(`${what} at ${marker}`, async () => what.test((await shown(document, at(marker))).value));
    await says(/30 {2}6\.\d+/, /\d \(\d.* … .*\d\)|± \d/);
    await says('greyscale.de.max', /undecided ≈/);
  });

  it('covers just what it is about', async () => {
    const { document } = await openFile('aurora-55.nitbook');
    const [hover] = await hovers(document, placeOf(document, 'settle').start.translate(0, 2));
    assert.equal(document.getText(hover!.range), 'settle');
  });

  it('is not shown where there is nothing to say', async () => {
    const { document } = await openText('nitbook 1\n# a comment\n\n');
    assert.isEmpty(await hovers(document, new vscode.Position(1, 4)));
    assert.isEmpty(await hovers(document, new vscode.Position(2, 0)));
  });

  it('shows texts of the file as they are written', async () => {
    const { document } = await openText('nitbook 1\nmode m "[run](command:x) <img src=x>"\n  Mark: *a* <b>\n');
    const { value } = await shown(document, new vscode.Position(1, 1));
    assert.include(value, String.raw`\[run\](command:x) \<img`);
  });
});
