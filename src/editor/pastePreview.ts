import * as vscode from 'vscode';
import { type Edits, isRefusal } from '../language/answers';
import { type PasteAnswers, type PastedRow, type PastePreview, pasteReasonText, previewPaste } from '../language/paste';
import { visible } from '../report/format';
import type { SessionText } from '../session/sessionText';
import { sayChanged } from './apply';
import { offsetAfter } from './contentChanges';
import type { Documents } from './documents';
import { say } from './l10n';

/** More rows than this are counted and not shown. */
const MOST_SHOWN = 200;

/**
 * What becomes of pasted or dropped rows once all is answered and looked at: the edits that put them into the run at an offset, `text` to
 * put the text in as it is, or nothing at all.
 * The session may change while the questions are open: the place goes with its text.
 */
export async function previewedRows(
  documents: Pick<Documents, 'source'>,
  document: vscode.TextDocument,
  offset: number,
  text: string,
): Promise<Edits | 'text' | undefined> {
  let at: number | undefined = offset;
  const following = vscode.workspace.onDidChangeTextDocument((change) => {
    if (change.document === document && at !== undefined) at = offsetAfter(at, change.contentChanges);
  });
  try {
    return await chosenRows((answers) => (at === undefined ? undefined : previewPaste(documents.source(document), at, text, answers)));
  } finally {
    following.dispose();
  }
}

/** What would go where as the session stands now; undefined where the place has gone. */
type Now = (answers: PasteAnswers) => ReturnType<typeof previewPaste> | undefined;

async function chosenRows(now: Now): Promise<Edits | 'text' | undefined> {
  let answers: PasteAnswers = {};
  for (;;) {
    const preview = now(answers);
    if (!preview) return sayChanged();
    if (isRefusal(preview)) return preview;
    const [question] = preview.questions;
    if (question === undefined) return accepted(preview, () => now(answers));
    const answer = await ask(question, preview);
    if (answer === undefined) return undefined;
    answers = { ...answers, [question]: answer };
  }
}

async function ask(question: keyof PasteAnswers, { run, rows }: PastePreview): Promise<boolean | undefined> {
  const taken = rows.filter(({ why }) => why?.code === 'paste-taken').length;
  const title =
    question === 'decimalComma'
      ? vscode.l10n.t('What are the commas in these numbers?')
      : vscode.l10n.t('Patches of {0} that have a reading already: {1} rows', run, taken);
  const items = BOTH.map((answer) => ({ label: answerText(question, answer), answer }));
  return (await vscode.window.showQuickPick(items, { title, ignoreFocusOut: true }))?.answer;
}

const BOTH = [true, false] as const;

function answerText(question: keyof PasteAnswers, answer: boolean): string {
  if (question === 'decimalComma') {
    return answer ? vscode.l10n.t('Decimal commas: 6,70 is 6.70') : vscode.l10n.t('No decimal commas: they part cells or thousands');
  }
  return answer ? vscode.l10n.t('Put them under it as repeats') : vscode.l10n.t('Leave them out');
}

export interface PasteChoice {
  readonly title: string;
  readonly edits: PastePreview['edits'];
}

/** What can be chosen at once where nothing can be asked or looked at: one way for each set of answers to what is open. */
export function pasteChoices(
  source: SessionText,
  offset: number,
  text: string,
  answers: PasteAnswers = {},
  said: readonly string[] = [],
): readonly PasteChoice[] {
  const preview = previewPaste(source, offset, text, answers);
  if (isRefusal(preview)) return [];
  const [question] = preview.questions;
  if (question !== undefined) {
    return BOTH.flatMap((answer) =>
      pasteChoices(source, offset, text, { ...answers, [question]: answer }, [...said, answerText(question, answer)]),
    );
  }
  const { edits } = preview;
  return edits.length === 0 ? [] : [{ title: vscode.l10n.t('Put Rows into the Run ({0})', [...said, counts(preview)].join('; ')), edits }];
}

/** Shows what would go where; only its first lines choose anything. */
async function accepted(preview: PastePreview, again: () => ReturnType<Now>): Promise<Edits | 'text' | undefined> {
  const put: vscode.QuickPickItem = { label: `$(check) ${vscode.l10n.t('Put into {0}', preview.run)}`, description: counts(preview) };
  const asText: vscode.QuickPickItem = { label: `$(clippy) ${vscode.l10n.t('Put in as text')}` };
  const actions = preview.edits.length > 0 ? [put, asText] : [asText];
  const pick = vscode.window.createQuickPick();
  pick.title = vscode.l10n.t('Rows for {0}', preview.run);
  pick.placeholder = preview.edits.length > 0 ? vscode.l10n.t('Enter puts them in, Esc does not') : vscode.l10n.t('No row can be put in');
  pick.items = [...actions, ...leftOut(preview), ...putIn(preview)];
  pick.ignoreFocusOut = true;
  try {
    const chosen = await new Promise<vscode.QuickPickItem | undefined>((resolve) => {
      pick.onDidAccept(() => {
        const [item] = pick.selectedItems;
        if (item && actions.includes(item)) resolve(item);
      });
      pick.onDidHide(() => resolve(undefined));
      pick.show();
    });
    if (chosen !== put) return chosen && 'text';
    const now = again();
    if (now && isRefusal(now)) return now;
    // The rows that were looked at are meant for that run.
    return now?.run === preview.run ? now.edits : sayChanged();
  } finally {
    pick.dispose();
  }
}

const WORDS: Readonly<Record<PastedRow['does'], () => string>> = {
  fills: () => vscode.l10n.t('fills a row to take'),
  adds: () => vscode.l10n.t('new row'),
  repeats: () => vscode.l10n.t('repeat'),
  same: () => vscode.l10n.t('there already'),
  nothing: () => vscode.l10n.t('left out'),
};

const COUNTED: Readonly<Record<PastedRow['does'], () => string>> = {
  fills: () => vscode.l10n.t('rows filled'),
  adds: () => vscode.l10n.t('new rows'),
  repeats: () => vscode.l10n.t('repeats'),
  same: () => vscode.l10n.t('there already'),
  nothing: () => vscode.l10n.t('left out'),
};

function counts({ rows }: PastePreview): string {
  const kinds = Object.keys(COUNTED) as PastedRow['does'][];
  const counted = kinds.map((kind) => [kind, rows.filter(({ does }) => does === kind).length] as const);
  return counted
    .filter(([, count]) => count > 0)
    .map(([kind, count]) => `${COUNTED[kind]()}: ${count}`)
    .join(', ');
}

const line = (number: number): string => vscode.l10n.t('Line {0}', number);

function leftOut({ columns, rows, left }: PastePreview): vscode.QuickPickItem[] {
  return section(vscode.l10n.t('Left out'), [
    ...columns.flatMap(({ title, why }, i) =>
      why ? [{ label: vscode.l10n.t('Column {0}', title === '' ? i + 1 : visible(title)), description: pasteReasonText(why, say) }] : [],
    ),
    ...rows.flatMap(({ line: at, why }) => (why ? [{ label: line(at), description: pasteReasonText(why, say) }] : [])),
    ...left.map(({ line: at, text, why }) => ({ label: line(at), description: `${visible(text)}: ${pasteReasonText(why, say)}` })),
  ]);
}

function putIn({ rows }: PastePreview): vscode.QuickPickItem[] {
  return section(
    vscode.l10n.t('Put in'),
    rows
      .filter(({ does }) => does !== 'nothing')
      .map(({ line: at, does, cells }) => {
        const said = Object.entries(cells).map(([name, text]) => `${name} ${visible(text)}`);
        return { label: line(at), description: [WORDS[does](), said.join('  ')].filter((part) => part !== '').join(': ') };
      }),
  );
}

function section(title: string, items: readonly vscode.QuickPickItem[]): vscode.QuickPickItem[] {
  if (items.length === 0) return [];
  const more = items.length - MOST_SHOWN;
  return [
    { label: title, kind: vscode.QuickPickItemKind.Separator },
    ...items.slice(0, MOST_SHOWN),
    ...(more > 0 ? [{ label: vscode.l10n.t('… and {0} more', more) }] : []),
  ];
}
