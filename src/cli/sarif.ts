import { pathToFileURL } from 'node:url';
import { isWithin } from '../project/paths';
import { CODES, type Severity } from '../text/codes';
import { sentence } from '../text/finding';
import type { Located } from './located';
import { version } from './version';

const LEVELS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', info: 'note' };
const BASE = 'ROOT';

/** Findings as a log of SARIF 2.1.0 (OASIS); what could not be read is a notification of the run. */
export function sarifForm(findings: readonly Located[], root: string, problems: readonly string[]): string {
  const codes = Object.entries(CODES);
  const index = new Map(codes.map(([code], i) => [code, i]));
  const log = {
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'nitbook',
            version,
            rules: codes.map(([id, { severity, trigger, sentence: text }]) => ({
              id,
              shortDescription: { text: `${trigger.charAt(0).toUpperCase()}${trigger.slice(1)}.` },
              fullDescription: { text },
              defaultConfiguration: { level: LEVELS[severity] },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        originalUriBaseIds: { [BASE]: { uri: folderUri(root) } },
        invocations: [
          {
            executionSuccessful: problems.length === 0,
            toolExecutionNotifications: problems.map((text) => ({ level: 'error', message: { text } })),
          },
        ],
        results: findings.map(({ path, finding, start, end }) => ({
          ruleId: finding.code,
          ruleIndex: index.get(finding.code),
          level: LEVELS[finding.severity],
          message: { text: sentence(finding) },
          locations: [
            {
              physicalLocation: {
                artifactLocation: artifact(path, root),
                region: { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column },
              },
              logicalLocations: [{ fullyQualifiedName: finding.at }],
            },
          ],
        })),
      },
    ],
  };
  return `${JSON.stringify(log, undefined, 2)}\n`;
}

const folderUri = (path: string): string => pathToFileURL(`${path}/`).href;

/** Relative to the root where the file lies in it; else by its whole address. */
function artifact(path: string, root: string): { readonly uri: string; readonly uriBaseId?: string } {
  if (!isWithin(root, path)) return { uri: pathToFileURL(path).href };
  return {
    uri: path
      .slice(root.length + 1)
      .split('/')
      .map(encodeURIComponent)
      .join('/'),
    uriBaseId: BASE,
  };
}
