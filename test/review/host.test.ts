// Reviews between their files and the workbench; test/editor/workbench.ts stands for the workbench.
import MarkdownIt from 'markdown-it';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type * as vscode from 'vscode';
import { NO_CONFIG } from '../../src/config/config';
import type { Configurations } from '../../src/editor/config';
import { Documents } from '../../src/editor/documents';
import { idsIn } from '../../src/language/reviewIds';
import { reviewsNaming } from '../../src/review/host/names';
import { MarkdownPreview } from '../../src/review/host/preview';
import { publish } from '../../src/review/host/publish';
import { homeOf, Reviews } from '../../src/review/host/reviews';
import { ReviewSessions } from '../../src/review/host/sessions';
import { readReview } from '../../src/review/markdown';
import { cleared, disk, disks, events, onDisk, open, put, told, Uri, window, vscode as workbench, workspace } from '../editor/workbench';
import { SESSION } from './reviews';

vi.mock('vscode', async () => (await import('../editor/workbench')).vscode);

const CLAIM = 'The white is [120 cd/m²](day.nitbook#pair.white) bright.\n';

function hosts(meanwhile = () => {}) {
  const of = async ({ path }: Uri) => {
    if (path.endsWith('.md')) meanwhile();
    return NO_CONFIG;
  };
  const configurations = { of, onDidChange: () => ({ dispose: () => undefined }) } as unknown as Configurations;
  const sessions = new ReviewSessions(new Documents(configurations), configurations);
  return { configurations, sessions, reviews: () => new Reviews(sessions, configurations) };
}

beforeEach(() => {
  cleared();
  vi.clearAllMocks();
  put('/home/day.nitbook', SESSION);
});

const refreshed = (times: number) =>
  vi.waitFor(() => expect(workbench.commands.executeCommand.mock.calls).toHaveLength(times), { timeout: 3000, interval: 10 });
const after = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe('A preview of Markdown', () => {
  function previewed() {
    put('/home/review.md', CLAIM);
    const document = open('/home/review.md', CLAIM, 'markdown');
    const { sessions, reviews, configurations } = hosts();
    const md = new MarkdownPreview(sessions, reviews(), configurations).extendMarkdownIt(new MarkdownIt());
    const letGo = () => {
      workspace.textDocuments.splice(workspace.textDocuments.indexOf(document), 1);
      document.isClosed = true;
      events.closed.fire(document);
    };
    const changed = () => {
      put('/home/day.nitbook', SESSION.replace('white   120.0', 'white   121.0'));
      events.fileChanged.fire(Uri.file('/home/day.nitbook'));
    };
    return { render: () => md.render(CLAIM, { currentDocument: document.uri }), letGo, changed };
  }

  it('follows its sessions after the workbench has let go of its text', async () => {
    window.tabGroups.all.push({ tabs: [{ input: new workbench.TabInputWebview('mainThreadWebview-markdown.preview') }] });
    const { render, letGo, changed } = previewed();
    render();
    await refreshed(1);
    const before = render();
    letGo();
    changed();
    await refreshed(2);
    expect(before).not.toContain('121');
    expect(render()).toContain('121');
  });

  it('that is closed reads nothing more once its text is', async () => {
    const { render, letGo, changed } = previewed();
    render();
    await refreshed(1);
    letGo();
    changed();
    await after(800);
    await refreshed(1);
  });
});

describe('Publishing as Markdown', () => {
  const PICTURES = `${CLAIM}\n![Balance](day.nitbook#grey.balance)\n\n![Screen](screen.png)\n`;

  async function published(text = PICTURES, into = '/home/out', answer: unknown = undefined, meanwhile = () => {}) {
    const document = open('/home/review.md', text, 'markdown');
    put('/home/review.md', text);
    put('/home/screen.png', 'a picture');
    window.showQuickPick.mockImplementationOnce(async (items) => (items as unknown[])[1]);
    window.showOpenDialog.mockResolvedValueOnce([Uri.file(into)]);
    window.activeTextEditor = { document };
    window.showWarningMessage.mockImplementation(async () => answer);
    await publish(undefined, hosts(meanwhile));
    workspace.textDocuments.length = 0;
    return document;
  }
  const asked = () =>
    window.showWarningMessage.mock.calls.map(([words, more]) => [words, (more as { detail?: string } | undefined)?.detail]);
  const made = () => [...disk.keys()].filter((path) => path.startsWith('/home/out/')).sort();
  const FILES = ['/home/out/review-grey.balance.svg', '/home/out/review.md', '/home/out/screen.png'];

  it('asks once before it writes over what it did not write, and writes nothing when that is not meant', async () => {
    put('/home/out/review.md', 'by somebody else');
    put('/home/out/screen.png', 'another picture');
    await published();
    expect(asked()).toEqual([['2 files of these names are there already.', 'screen.png\nreview.md']]);
    expect([onDisk('/home/out/review.md'), onDisk('/home/out/screen.png')]).toEqual(['by somebody else', 'another picture']);
    await published(PICTURES, '/home/out', 'Replace');
    expect(onDisk('/home/out/screen.png')).toBe('a picture');
    expect(made()).toEqual(FILES);
  });

  it('does not ask about what it wrote before, unless somebody changed that', async () => {
    await published(PICTURES, '/home/out');
    await published(`${PICTURES}More.\n`, '/home/out');
    expect(asked()).toEqual([]);
    expect(onDisk('/home/out/review.md')).toContain('More.');
    put('/home/out/review.md', 'mended by hand');
    await published(PICTURES, '/home/out');
    expect(asked()).toEqual([['A file of this name is there already.', 'review.md']]);
    expect(onDisk('/home/out/review.md')).toBe('mended by hand');
  });

  it('publishes the text that its claims were checked in, whatever is typed meanwhile', async () => {
    await published(CLAIM, '/home/out/now', undefined, () => {
      const document = workspace.textDocuments.find(({ uri }) => uri.path === '/home/review.md')!;
      document.write('120', '999');
    });
    expect(asked()).toEqual([]);
    expect(onDisk('/home/out/now/review.md')).toBe('The white is 120 cd/m² bright.\n');
  });

  it('does not write two files whose names part by their case alone', async () => {
    put('/home/Screen.png', 'another picture');
    await published(`${PICTURES}![Other](Screen.png)\n`, '/home/out');
    expect(told).toEqual(['screen.png and Screen.png would be one file on many disks: give one of them another name.']);
    expect(made()).toEqual([]);
  });

  it('does not write over the review by another case of its path', async () => {
    disks.foldCase = true;
    await published(PICTURES, '/Home');
    expect(told).toEqual(['The review itself would be written over: choose another folder.']);
    expect(onDisk('/home/review.md')).toBe(PICTURES);
  });
});

describe('Reviews that name a block', () => {
  it('are given at the places of the workbench, which has no byte order mark in its documents', async () => {
    put('/home/review.md', `\uFEFF${CLAIM}`);
    workspace.findFiles.mockResolvedValueOnce([Uri.file('/home/review.md')]);
    const { reviews } = hosts();
    const found = await reviewsNaming(Uri.file('/home/day.nitbook') as unknown as vscode.Uri, 'pair', reviews());
    const span = idsIn(readReview(CLAIM), { path: '/home/review.md', root: '/home' })[0]!.span;
    expect(CLAIM.slice(...span)).toBe('pair');
    expect(found.map(({ spans }) => spans)).toEqual([[span]]);
  });

  it('are none of earlier versions: their sessions are not at hand', () => {
    const of = (uri: Uri) => homeOf(uri as unknown as vscode.Uri);
    expect(of(Uri.file('/home/review.md'))?.place).toEqual({ path: '/home/review.md', root: '/home' });
    expect(of(Uri.file('/home/review.md').with({ scheme: 'git', query: 'HEAD' }))).toBeUndefined();
  });
});

it('A session that the workbench reads anew from a disk that nothing watches is read anew for reviews', async () => {
  const { sessions } = hosts();
  const white = async () => {
    const read = await sessions.in(Uri.file('/home') as unknown as vscode.Uri).session('/home/day.nitbook');
    return read.ok ? /white: (\S+)/.exec(read.analysis.source.text)![1] : undefined;
  };
  const document = open('/home/day.nitbook', SESSION);
  expect(await white()).toBe('d65');
  const now = SESSION.replace('white: d65', 'white: d50');
  put('/home/day.nitbook', now);
  document.write('white: d65', 'white: d50');
  document.isDirty = false;
  expect(await white()).toBe('d50');
});
