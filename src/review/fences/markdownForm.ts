import { escaped, table } from '../../report/markdown';
import type { Cautions, Cell, Facts, Part, Table } from './parts';

/** A part as plain Markdown. @param drawn the file that shows a figure */
export function partMarkdown(part: Part, drawn: (part: Extract<Part, { is: 'drawing' }>) => string): string {
  switch (part.is) {
    case 'table':
      return tableMarkdown(part);
    case 'facts':
      return factsMarkdown(part);
    case 'drawing':
      return `![${escaped(part.figure.title)}](${drawn(part)})`;
    case 'cautions':
      return cautionsMarkdown(part);
  }
}

function tableMarkdown({ caption, head, groups, notes }: Table): string {
  const shown = groups.filter(({ rows }) => rows.length > 0);
  const rows = shown.flatMap(({ title, rows }) => [
    // Rows that say their group by themselves need no head.
    ...(title === undefined || rows.every(({ whole }) => whole !== undefined) ? [] : [[bold(title), ...head.slice(1).map(() => '')]]),
    ...rows.map(({ name, whole, cells }) => [escaped(whole ?? name), ...cells.map(cellMarkdown)]),
  ]);
  const abouts = shown.flatMap(({ title, about }) =>
    about ? [`- ${title === undefined ? '' : `${escaped(title)}: `}${escaped(about)}`] : [],
  );
  return [bold(caption), table(head.map(escaped), rows), abouts.join('\n'), ...notes.map((note) => `*${escaped(note)}*`)]
    .filter((part) => part !== '')
    .join('\n\n');
}

const bold = (text: string): string => `**${escaped(text)}**`;

function cellMarkdown({ text, look, mark }: Cell): string {
  const shown = escaped(text);
  return look === 'changed' ? `**${shown}**` : mark === undefined ? shown : `${shown} ${escaped(mark)}`;
}

const factsMarkdown = ({ title, facts }: Facts): string =>
  [bold(title), facts.flatMap(({ label, texts }) => texts.map((text) => `- ${escaped(label)}: ${escaped(text)}`)).join('\n')].join('\n\n');

const cautionsMarkdown = ({ title, sentences }: Cautions): string =>
  [bold(title), sentences.map((sentence) => `- ${escaped(sentence)}`).join('\n')].join('\n\n');
