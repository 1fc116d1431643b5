import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { NO_CONFIG } from '../../src/config/config';
import { analyse } from '../../src/project/analysis';
import { SessionText } from '../../src/session/sessionText';
import { session } from './data';
import type { Cells } from './report';
import { median, milliseconds, ratio, timed } from './timing';

const SESSIONS = 1_000;
const READINGS = 100;
const TIMES = { rounds: 5, warmUp: 1 };

/** Reads all bytes of the files of a folder, and says how many. */
const READER = `
import { readdirSync, readFileSync } from 'node:fs';
let bytes = 0;
for (const name of readdirSync('.', { recursive: true })) if (name.endsWith('.nitbook')) bytes += readFileSync(name).length;
if (bytes === 0) process.exit(1);
`;

/** @param commandLine the path of the command line as it ships */
export function folderTable(commandLine: string): Cells {
  const texts = Array.from({ length: SESSIONS }, (_, i) => session(READINGS, 1000 + i));
  const folder = mkdtempSync(join(tmpdir(), 'nitbook-bench-'));
  try {
    texts.forEach((text, i) => {
      const shelf = join(folder, `display-${Math.floor(i / 20)}`);
      mkdirSync(shelf, { recursive: true });
      writeFileSync(join(shelf, `day-${i}.nitbook`), text);
    });
    const inFolder = (...args: readonly string[]): number => {
      const { status, stderr } = spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 });
      if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}:\n${stderr}`);
      return 0;
    };
    const processes = timed(
      {
        'nitbook check, the whole process': () => inFolder(commandLine, 'check', '.', '--fail-on', 'never'),
        'a process that reads the bytes': () => inFolder('--input-type=module', '--eval', READER),
      },
      TIMES,
    );
    const inProcess = timed({ analysed: () => texts.reduce((sum, text) => sum + findingsOf(text), 0) }, TIMES);
    const rows = Object.entries({ ...processes, 'read and analysed in one process, warm, from memory': inProcess.analysed! });
    const own = median(rows[0]![1]);
    return [
      ['', 'median', 'a session', 'against nitbook'],
      ...rows.map(([name, times]) => [
        name,
        milliseconds(median(times)),
        milliseconds(median(times) / SESSIONS),
        ratio(median(times), own),
      ]),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const findingsOf = (text: string): number => analyse(SessionText.read(text), NO_CONFIG).findings.length;
