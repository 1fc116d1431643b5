import { visible } from '../report/format';
import type { Severity } from '../text/codes';
import { sentence } from '../text/finding';
import type { Located } from './located';
import { coloured } from './terminal';

const COLOURS: Readonly<Record<Severity, number>> = { error: 31, warning: 33, info: 36 };

/** `path:line:column: severity code: sentence`, one finding a line. */
export function textForm(findings: readonly Located[], stream: NodeJS.WriteStream): string {
  const paint = coloured(stream);
  return lines(findings, ({ shown, start, finding }) => {
    const { code, severity } = finding;
    return `${visible(shown)}:${start.line}:${start.column}: ${paint(severity, COLOURS[severity])} ${code}: ${visible(sentence(finding))}`;
  });
}

/**
 * An array of findings. This shape is stable: keys are only ever added. Lines and columns count from 1, columns in UTF-16 units, the end is
 * behind the last character. `at` names the place by blocks, which stays when lines move; `mends` are the titles of what would put it right.
 */
export const jsonForm = (findings: readonly Located[]): string =>
  `${JSON.stringify(
    findings.map(({ shown, start, end, finding }) => ({
      file: shown,
      line: start.line,
      column: start.column,
      endLine: end.line,
      endColumn: end.column,
      severity: finding.severity,
      code: finding.code,
      message: sentence(finding),
      at: finding.at,
      mends: finding.mends.map(({ title }) => title),
    })),
    undefined,
    2,
  )}\n`;

const GITHUB_LEVELS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'notice' };

/** Workflow commands of GitHub Actions, which turn into annotations. */
export const githubForm = (findings: readonly Located[]): string =>
  lines(findings, ({ shown, start, end, finding }) => {
    const places = [
      `file=${property(shown)}`,
      `line=${start.line}`,
      `endLine=${end.line}`,
      `col=${start.column}`,
      `endColumn=${end.column}`,
      `title=${finding.code}`,
    ];
    return `::${GITHUB_LEVELS[finding.severity]} ${places.join(',')}::${data(sentence(finding))}`;
  });

/** What would end a command, or begin another. */
const data = (text: string): string => text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
const property = (text: string): string => data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');

const lines = (findings: readonly Located[], line: (finding: Located) => string): string =>
  findings.map((finding) => `${line(finding)}\n`).join('');
