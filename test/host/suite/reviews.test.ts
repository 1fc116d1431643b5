import { assert } from 'chai';
import * as vscode from 'vscode';
import { NO_CONFIG } from '../../../src/config/config';
import { analyse } from '../../../src/project/analysis';
import { readReview } from '../../../src/review/markdown';
import { checkedReview } from '../../../src/review/sources';
import { SessionText } from '../../../src/session/sessionText';
import { expectedIn, mends, openFile, openText, placeOf, until, workspaceFile, written } from './tools';

const SESSION = 'aurora-55.nitbook';
const PEAK = '[815 cd/m²](aurora-55.nitbook#hdr-window.peak@10)';

const shown = (uri: vscode.Uri) =>
  vscode.languages
    .getDiagnostics(uri)
    .filter(({ source }) => source === 'nitbook')
    .map(written)
    .sort();

/** Waits until a review shows just these findings, in any order. */
async function shows(uri: vscode.Uri, expected: readonly RegExp[]): Promise<string[]> {
  let found: string[] = [];
  await until(`${expected.length} findings in ${uri}`, () => {
    found = shown(uri);
    return found.length === expected.length && expected.every((each) => found.some((line) => each.test(line)));
  }).catch(() => assert.deepEqual(found, expected.map(String)));
  return found;
}

/** What the core finds in a review of the workspace. */
async function ofCore(document: vscode.TextDocument): Promise<string[]> {
  const checked = await checkedReview(
    readReview(document.getText()),
    { path: '/w/review.md', root: '/w', config: NO_CONFIG },
    {
      async session(path) {
        const bytes = await vscode.workspace.fs.readFile(workspaceFile(path.slice(3)));
        return { ok: true, analysis: analyse(SessionText.read(new TextDecoder().decode(bytes)), NO_CONFIG) };
      },
      list: async () => [],
    },
  );
  return expectedIn(document.getText(), checked.findings);
}

const replaceAll = (editor: vscode.TextEditor, text: string) =>
  editor.edit((edit) => edit.replace(new vscode.Range(0, 0, editor.document.lineCount, 0), text));

/**
 * An unsaved review. The workbench gives the name of one that was closed to the next, whose text may be a while in coming, or does not come:
 * then another is opened.
 */
async function openReview(text: string, tries = 3): Promise<vscode.TextEditor> {
  const editor = await openText(text, 'markdown');
  try {
    await until('the text', () => editor.document.getText().replaceAll('\r', '') === text.replaceAll('\r', ''), 5000);
    return editor;
  } catch (error) {
    if (tries === 1) throw error;
    return openReview(text, tries - 1);
  }
}

describe('A review', () => {
  it('of the examples claims nothing that does not hold', async () => {
    for (const name of ['aurora-55.md', 'meadow-65.md']) {
      const editor = await openFile(name);
      const { document } = editor;
      // First one that does not, to see that there is something to wait for.
      const claim = placeOf(document, document.getText().match(/\[0\.\d+ stops\]\([^)]*near-black[^)]*\)/)![0]);
      await editor.edit((edit) => edit.insert(claim.start.translate(0, 1), '9'));
      await shows(document.uri, [/claim-wrong/]);
      await vscode.commands.executeCommand('undo');
      await shows(document.uri, []);
    }
  });

  it('shows the findings of the core, in the same places', async () => {
    const { document } = await openReview(
      [
        '# Peak of 163 nits',
        '',
        `> It has ${PEAK.replace('815', '816')}, [over 900 nits](${SESSION}#hdr-window.peak)`,
        `> and [10 % at 815](${SESSION}#hdr-window.peak) [x](${SESSION}#hdr-windw.peak).`,
        '',
        `| \u{1F4CF} | [5,5](${SESSION}#grey.de.max) |`,
        '|---|---|',
        `| a | ![x](${SESSION}#grey.balanc) |`,
      ].join('\r\n'),
    );
    const expected = await ofCore(document);
    assert.lengthOf(expected, 7);
    await until('the findings', () => JSON.stringify(shown(document.uri)) === JSON.stringify(expected)).catch(() =>
      assert.deepEqual(shown(document.uri), expected),
    );
  });

  it('is checked as it is typed, and goes quiet when it holds', async () => {
    const editor = await openReview(`It has ${PEAK}.`);
    const { document } = editor;
    await replaceAll(editor, `It has ${PEAK.replace('815', '8150')}.`);
    await shows(document.uri, [/^1:9-1:19 error claim-wrong "8150 cd\/m²" does not hold: Peak @10 % of hdr-window is 815 cd\/m²\.$/]);
    await replaceAll(editor, `It has ${PEAK}.`);
    await shows(document.uri, []);
    await replaceAll(editor, 'No reference any more: 815 nits.');
    await shows(document.uri, []);
  });

  it('follows a session that is written on in another tab, and back', async () => {
    const { document } = await openReview(`It has ${PEAK}.`);
    const session = await openFile(SESSION);
    const row = session.document
      .getText()
      .split('\n')
      .findIndex((line) => /^ {8}10 {2}8\d\d\.\d$/.test(line));
    await session.edit((edit) => edit.replace(new vscode.Range(row, 12, row, 17), '700.0'));
    await shows(document.uri, [/claim-wrong "815 cd\/m²" does not hold: Peak @10 % of hdr-window is \d+ cd\/m²/]);
    await vscode.commands.executeCommand('undo');
    await shows(document.uri, []);
    assert.isFalse(session.document.isDirty);
  });

  it('follows a session that changes on disk, that comes and goes', async () => {
    const file = workspaceFile('made.nitbook');
    const { document } = await openReview('It has [4,000:1](made.nitbook#pair.sequential).');
    const write = (black: string) =>
      vscode.workspace.fs.writeFile(
        file,
        new TextEncoder().encode(`nitbook 1\nsession 2026-03-14\ncontrast pair\n    patch   Y\n    white   120\n    black   ${black}\n`),
      );
    try {
      await shows(document.uri, [/link-file made\.nitbook: there is no such file\./]);
      await write('0.03');
      await shows(document.uri, []);
      await write('0.06');
      await shows(document.uri, [/claim-wrong "4,000:1" does not hold: Contrast, sequential of pair is 2000:1/]);
    } finally {
      await vscode.workspace.fs.delete(file);
    }
    await shows(document.uri, [/link-file/]);
  });

  it('reads nothing outside the folder', async () => {
    const { document } = await openReview('[1](../x.nitbook#a.b) [1](https://halden.example/x.nitbook#a.b) [1](file:///etc/x.nitbook#a.b)');
    await shows(document.uri, [/link-file \.\.\/x\.nitbook: it lies outside the folder/, /found "https:"/, /found "file:"/]);
  });

  it('is mended by a quick fix, in one step', async () => {
    const text = `It has ${PEAK.replace('815', '816')}.`;
    const { document } = await openReview(text);
    await shows(document.uri, [/claim-wrong/]);
    const [fix] = (await mends(document.uri, placeOf(document, '816'))).filter(({ title }) => title === 'Write 815 cd/m²');
    assert.isTrue(await vscode.workspace.applyEdit(fix!.edit!));
    assert.equal(document.getText(), `It has ${PEAK}.`);
    await shows(document.uri, []);
    await vscode.commands.executeCommand('undo');
    assert.equal(document.getText(), text);
  });

  it('has a link offered for a figure without one', async () => {
    const { document } = await openReview(`${PEAK} and 161 nits.`);
    await shows(document.uri, [/info claim-unlinked "161 nits" is linked to no figure of a session\./]);
    const titles = (await mends(document.uri, placeOf(document, '161 nits'))).map(({ title }) => title);
    assert.include(titles, 'Link to aurora-55.nitbook#hdr-window.full: Full field 161 cd/m²');
  });

  it('tells of a claim what it is held against', async () => {
    const { document } = await openReview(`It has ${PEAK}.`);
    const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
      'vscode.executeHoverProvider',
      document.uri,
      placeOf(document, '815').start,
    );
    const texts = hovers.flatMap(({ contents }) => contents.map((content) => (content as vscode.MarkdownString).value));
    const card = texts.find((text) => text.includes('hdr-window'));
    assert.match(card!, /^\*\*Peak @10 %\*\* of hdr-window: \*\*815 ± \d+ cd\/m²\*\*/);
    assert.include(card!, 'The claim holds.');
    assert.include(card!, 'mode cinema-hdr');
  });

  it('offers sessions, runs, measures with their values, and rows', async () => {
    const labels = async (text: string) => {
      const { document } = await openReview(text);
      const position = document.positionAt(text.indexOf(')'));
      const list = await vscode.commands.executeCommand<vscode.CompletionList>(
        'vscode.executeCompletionItemProvider',
        document.uri,
        position,
      );
      return list.items
        .filter(({ sortText }) => /^\d{4}$/.test(sortText ?? ''))
        .map(({ label }) => (typeof label === 'string' ? label : `${label.label} ${label.description}`));
    };
    assert.includeMembers(await labels('[815]()'), ['aurora-55.nitbook', 'meadow-65.nitbook']);
    assert.include(await labels('[815](aurora-55.nitbook#)'), 'hdr-window window · Peak by area');
    assert.deepEqual((await labels('[161 nits](aurora-55.nitbook#hdr-window.)')).slice(0, 2), ['full 161 cd/m²', 'peak 815 cd/m²']);
    assert.equal((await labels('[815 nits](aurora-55.nitbook#hdr-window.peak@)'))[0], '10 815 cd/m²');
    assert.include(await labels('![x](aurora-55.nitbook#grey.)'), 'balance');
  });

  it('leads to the row that is meant, and to the head of the run', async () => {
    const { document } = await openReview(`It has ${PEAK} and [815](${SESSION}#hdr-window.peak).`);
    const session = await vscode.workspace.openTextDocument(workspaceFile(SESSION));
    const target = async (marker: string) => {
      const found = await vscode.commands.executeCommand<(vscode.LocationLink | vscode.Location)[]>(
        'vscode.executeDefinitionProvider',
        document.uri,
        placeOf(document, marker).start,
      );
      const links = found.filter((each): each is vscode.LocationLink => 'targetUri' in each && each.targetUri.path.endsWith(SESSION));
      return links.map(({ targetRange }) => session.getText(targetRange).replace(/ +/g, ' '));
    };
    assert.match((await target('peak@10')).join(), /^10 8\d\d\.\d$/);
    assert.deepEqual(await target('peak)'), ['window hdr-window "Peak by area"']);
  });
});

describe('A run that reviews name', () => {
  const at = (document: vscode.TextDocument, marker: string) => {
    const offset = document.getText().indexOf(marker);
    assert.isAtLeast(offset, 0, marker);
    return document.positionAt(offset);
  };
  const counted = (text: string, of: string) => text.split(of).length - 1;
  const texts = async () =>
    Promise.all(
      ['aurora-55.md', 'meadow-65.md'].map(async (name) => (await vscode.workspace.openTextDocument(workspaceFile(name))).getText()),
    );

  it('is found in all of them, from the session and from a review', async () => {
    const [own, other] = await texts();
    const inReviews = counted(own!, `${SESSION}#hdr-window.`) + counted(other!, `${SESSION}#hdr-window.`);
    const session = await vscode.workspace.openTextDocument(workspaceFile(SESSION));
    const review = await vscode.workspace.openTextDocument(workspaceFile('aurora-55.md'));
    for (const [uri, position] of [
      [session.uri, at(session, 'hdr-window "Peak')],
      [review.uri, at(review, 'hdr-window.peak')],
    ] as const) {
      const found = await vscode.commands.executeCommand<vscode.Location[]>('vscode.executeReferenceProvider', uri, position);
      // The editor's own Markdown support finds whole links to the file besides.
      const ids = found.filter(({ range }) => range.end.character - range.start.character === 'hdr-window'.length);
      const files = ids.map((each) => each.uri.path.replace(/^.*\//, ''));
      assert.equal(files.filter((file) => file.endsWith('.md')).length, inReviews);
      assert.include(files, SESSION);
    }
  });

  it('is renamed in the session and in every review, as one edit', async () => {
    const before = await texts();
    const session = await vscode.workspace.openTextDocument(workspaceFile(SESSION));
    const review = await vscode.workspace.openTextDocument(workspaceFile('aurora-55.md'));
    const rename = (uri: vscode.Uri, position: vscode.Position, to: string) =>
      vscode.commands.executeCommand<vscode.WorkspaceEdit>('vscode.executeDocumentRenameProvider', uri, position, to);
    const fromSession = await rename(session.uri, at(session, 'hdr-window "Peak'), 'windows');
    const fromReview = await rename(review.uri, at(review, 'hdr-window.peak'), 'windows');
    const sizes = (edit: vscode.WorkspaceEdit) =>
      Object.fromEntries(edit.entries().map(([uri, edits]) => [uri.path.replace(/^.*\//, ''), edits.length]));
    const expected = {
      [SESSION]: 1,
      'aurora-55.md': counted(before[0]!, `${SESSION}#hdr-window.`),
      'meadow-65.md': counted(before[1]!, `${SESSION}#hdr-window.`),
    };
    assert.deepEqual(sizes(fromSession), expected);
    assert.deepEqual(sizes(fromReview), expected);
    // In tabs, so that what is not saved goes with them.
    for (const name of [SESSION, 'aurora-55.md', 'meadow-65.md']) await openFile(name);
    assert.isTrue(await vscode.workspace.applyEdit(fromReview));
    const after = await texts();
    assert.deepEqual(
      after,
      before.map((text) => text.replaceAll(`${SESSION}#hdr-window.`, `${SESSION}#windows.`)),
    );
    assert.include(session.getText(), 'window windows "Peak by area"');
    await until('claims that hold again', () => shown(review.uri).length === 0);
  });

  it('is not given a name that is none', async () => {
    const review = await vscode.workspace.openTextDocument(workspaceFile('aurora-55.md'));
    const position = at(review, 'hdr-window.peak');
    const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
      'vscode.executeDocumentRenameProvider',
      review.uri,
      position,
      'two words',
    );
    assert.equal(edit.size, 0);
  });
});
