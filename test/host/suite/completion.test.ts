import { assert } from 'chai';
import * as vscode from 'vscode';
import { type Completion, completions } from '../../../src/language/complete';
import { analysisOf, openText, until, workspaceFile } from './tools';

/** What is offered at the end of a session of this text, by the extension alone. */
async function offered(document: vscode.TextDocument): Promise<vscode.CompletionItem[]> {
  const { items } = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    document.positionAt(document.getText().length),
  );
  return items;
}

const labels = (items: readonly vscode.CompletionItem[]): string[] =>
  items.map(({ label }) => (typeof label === 'string' ? label : label.label));

const used = (maker: string, gamma: string) => `nitbook 1\ndisplay "${maker} A"\nmode a\n  Picture / Gamma step: ${gamma}\n`;

/** A folder of the memory, as a virtual workspace would have it: it can be listed and read, but not searched or watched. */
class Memory implements vscode.FileSystemProvider {
  readonly onDidChangeFile = new vscode.EventEmitter<vscode.FileChangeEvent[]>().event;

  constructor(private readonly files: Readonly<Record<string, string>>) {}

  watch = () => new vscode.Disposable(() => undefined);
  readDirectory = (): [string, vscode.FileType][] => Object.keys(this.files).map((name) => [name, vscode.FileType.File]);
  readFile = ({ path }: vscode.Uri) => new TextEncoder().encode(this.text(path));
  stat = ({ path }: vscode.Uri): vscode.FileStat =>
    path === '/'
      ? { type: vscode.FileType.Directory, ctime: 0, mtime: 0, size: 0 }
      : { type: vscode.FileType.File, ctime: 0, mtime: 0, size: this.text(path).length };
  createDirectory = this.refuse;
  writeFile = this.refuse;
  delete = this.refuse;
  rename = this.refuse;

  private text(path: string): string {
    const text = this.files[path.slice(1)];
    if (text === undefined) throw vscode.FileSystemError.FileNotFound(path);
    return text;
  }

  private refuse(): never {
    throw vscode.FileSystemError.NoPermissions();
  }
}

describe('Completion', () => {
  for (const [where, text] of [
    ['in an empty line of a session', 'nitbook 1\n'],
    ['for names', 'nitbook 1\ntarget dark\n  '],
    ['for values', 'nitbook 1\nmode cinema\nmode lively\ngreyscale grey\n  mode: '],
    ['for limits', 'nitbook 1\nlimits\n  grey'],
    ['for rows', 'nitbook 1\ngreyscale grey\n    level   Y         x        y\n        '],
    ['for parts of a word', 'nitbook 1\ntarget dark\n  cur'],
  ] as const) {
    it(`is that of the core ${where}`, async () => {
      const { document } = await openText(text);
      const items = await until('items', async () => {
        const found = await offered(document);
        return found.length > 0 ? found : undefined;
      });
      const ofCore = completions(analysisOf(document), text.length);
      const plain = (each: Completion) => [each.label, each.insert, each.snippet, each.detail, each.documentation, ...each.replace];
      assert.deepEqual(
        items.map(({ label, insertText, detail, documentation, range }) => {
          const at = range as vscode.Range;
          const inserted = typeof insertText === 'string' ? insertText : insertText!.value;
          const markdown = (documentation as vscode.MarkdownString | undefined)?.value ?? '';
          return [
            label,
            inserted,
            insertText instanceof vscode.SnippetString,
            detail ?? '',
            markdown,
            ...[at.start, at.end].map((p) => document.offsetAt(p)),
          ];
        }),
        ofCore.map(plain),
      );
    });
  }

  it('gives way where there is nothing to complete', async () => {
    const { document } = await openText('nitbook 1\n# a comm');
    assert.isEmpty((await offered(document)).filter(({ kind }) => kind !== vscode.CompletionItemKind.Text));
  });

  it('knows what the other sessions of the maker use, and when they change', async () => {
    const uri = workspaceFile('other-day.nitbook');
    const write = (text: string) => vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
    try {
      await write(used('Fjell', 'tall'));
      const { document } = await openText('nitbook 1\ndisplay "Fjell B"\nmode m\n  Picture / Gamma step: ');
      await until('the value of the other session', async () => labels(await offered(document)).includes('tall'));
      await write(used('Fjell', 'small'));
      await until('its new value', async () => labels(await offered(document)).includes('small'), 15_000);
      assert.notInclude(labels(await offered(document)), 'tall');
    } finally {
      await vscode.workspace.fs.delete(uri);
    }
    const { document } = await openText('nitbook 1\ndisplay "Fjell B"\nmode m\n  Picture / Gamma step: ');
    await until('that it is gone', async () => !labels(await offered(document)).includes('small'), 15_000);
  });

  it('knows the sessions beside a file of no workspace, in a folder that cannot be searched', async () => {
    const files = {
      'a.nitbook': used('Fjell', 'one'),
      'b.nitbook': used('Fjell', 'two'),
      'c.nitbook': used('Other', 'three'),
      'd.txt': used('Fjell', 'four'),
    };
    const own = 'nitbook 1\ndisplay "Fjell B"\nmode m\n  Picture / Gamma step: ';
    const registered = vscode.workspace.registerFileSystemProvider('bench-memory', new Memory({ ...files, 'own.nitbook': own }), {
      isReadonly: true,
    });
    try {
      const uri = vscode.Uri.parse('bench-memory:/own.nitbook');
      const { document } = await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uri));
      await until('the values of both', async () => {
        const found = labels(await offered(document));
        return found.includes('one') && found.includes('two');
      });
      const found = labels(await offered(document));
      assert.notInclude(found, 'three');
      assert.notInclude(found, 'four');
    } finally {
      await vscode.commands.executeCommand('workbench.action.closeAllEditors');
      registered.dispose();
    }
  });
});
