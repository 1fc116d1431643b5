import { assert } from 'chai';
import Markdown from 'markdown-it';
import * as vscode from 'vscode';
import { extensionId, hostKind, openFile, until, workspaceFile } from './tools';

const REVIEW = `The greyscale averages [1.5](aurora-55.nitbook#grey.de.avg), not [1.9](aurora-55.nitbook#grey.de.avg).

![Balance](aurora-55.nitbook#grey.balance)

\`\`\`nitbook
settings aurora-55.nitbook#cinema-tuned
summary gone.nitbook#session
\`\`\`
`;

const isRead = (html: string): boolean => !html.includes('nitbook-pending');

function assertShown(html: string): void {
  assert.include(html, 'nitbook-claim nitbook-holds');
  assert.include(html, 'nitbook-claim nitbook-wrong');
  assert.include(html, 'data-figure="balance"');
  assert.include(html, '<caption>Settings of Cinema, as adjusted</caption>');
  assert.include(html, 'gone.nitbook: there is no such file.');
}

describe('The preview of Markdown', () => {
  let review: vscode.Uri;
  before(async () => {
    review = workspaceFile('previewed.md');
    await vscode.workspace.fs.writeFile(review, new TextEncoder().encode(REVIEW));
  });
  after(() => vscode.workspace.fs.delete(review));

  // In the web the suite's host is another than that of the built-in support, which here is that of the server.
  const itHere = hostKind === 'node' ? it : it.skip;
  itHere('shows what a review refers to, once its sessions are read', async () => {
    const document = await vscode.workspace.openTextDocument(review);
    const rendered = () => vscode.commands.executeCommand<string>('markdown.api.render', document);
    const first = await rendered();
    assert.include(first, 'data-line="2"', 'figures keep their line');
    await vscode.window.showTextDocument(document);
    const html = await until('the sessions', async () => {
      await vscode.commands.executeCommand('markdown.preview.refresh');
      const now = await rendered();
      return isRead(now) ? now : undefined;
    });
    assertShown(html);
    assert.match(html, /<div data-line="4" class="code-line nitbook"/);
  });

  it('renders at once from what is known, and once more when all is read', async () => {
    const { extendMarkdownIt } = await vscode.extensions.getExtension(extensionId)!.activate();
    const md = extendMarkdownIt(new Markdown()) as InstanceType<typeof Markdown>;
    const { document } = await openFile('previewed.md');
    const env = { currentDocument: document.uri };
    const html = await until('the sessions', () => {
      const now = md.render(REVIEW, env);
      return isRead(now) ? now : undefined;
    });
    assertShown(html);
    // What a session is typed to is followed.
    const session = await openFile('aurora-55.nitbook');
    const at = session.document.getText().indexOf('Picture / Light output: 39') + 'Picture / Light output: '.length;
    await session.edit((edit) =>
      edit.replace(new vscode.Range(session.document.positionAt(at), session.document.positionAt(at + 2)), '77'),
    );
    await until('the setting that was typed', () => md.render(REVIEW, env).includes('<strong>77</strong>'));
  });

  it('leaves documents alone of which it knows no place', async () => {
    const { extendMarkdownIt } = await vscode.extensions.getExtension(extensionId)!.activate();
    const md = extendMarkdownIt(new Markdown()) as InstanceType<typeof Markdown>;
    const text = '[1.5](aurora-55.nitbook#grey.de.avg)\n\n```nitbook\ncautions\n```\n';
    assert.equal(md.render(text, {}), new Markdown().render(text));
  });
});
