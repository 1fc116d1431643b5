import { INSTRUCTIONS, type InstructionSpec } from './fences/language';

/** The reference page of fenced blocks, made from the table that the program works from: `npm run docs`. */
export function fencesPage(): string {
  const rows = Object.entries<InstructionSpec>(INSTRUCTIONS).map(
    ([name, { about, takes, example }]) => `| \`${name}\` | ${takes ?? 'nothing'} | ${about} | \`${example}\` |`,
  );
  return `<!-- Made by \`npm run docs\` from the tables in src. Edit those. -->

# Fenced blocks in a review

A fenced block called \`nitbook\` asks for tables and figures, one instruction and one reference a line:

\`\`\`\`markdown
\`\`\`nitbook
settings aurora-55.nitbook#cinema-tuned

compare aurora-55.nitbook#grey.de.avg
compare aurora-55.nitbook#hdr-window.peak@10
compare meadow-65.nitbook#session

cautions
\`\`\`
\`\`\`\`

| instruction | takes | shows | such as |
| --- | --- | --- | --- |
${rows.join('\n')}

- Lines of one instruction that follow each other make one table, or one figure. A blank line parts them. A line that starts with \`#\` is a comment.
- The whole of a session is \`#session\`. Several runs or modes are joined: \`#grey+grey-tuned\`.
- \`settings\` of one mode says of each setting what it was in the mode that this one is \`from\`, whether it was not there, or is taken out; of several modes the
  changed ones are bold. \`?\` is still to note.
- \`compare\` of runs has a column a run, and each measure that is a main one or has a limit. Of displays it has a column a session, in the order in which they come: a line
  with a figure adds a row, and a session that is named as a whole shows its figures of the same runs in it. Where sessions alone are named, the rows are the main
  figures of all runs that at least two of them have, by their ids. Properties can be rows too: \`#aurora.price\`.
- Values that do not keep their limit say so in words. What each number is against stands below it, or above its group.
- A block that neither refers to a session nor starts with an instruction is left as it is: a text of a session, say.

The same is shown in the preview of Markdown in VS Code, in a page that is published and, as plain tables, in Markdown that is published. What is mistaken in a line is
[a finding](findings.md), and is said in its place.
`;
}

export const REVIEW_PAGES: Readonly<Record<string, () => string>> = { 'syntaxes/fences.md': fencesPage };
