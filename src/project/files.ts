import { fill, type Message, phraseOf, type Say, worded } from '../text/message';

/** Where the files of a folder come from: a disk, an editor's workspace, a test's memory. */
export interface Files {
  /**
   * Reads a file as text. Never rejects: what is not there or no text is an answer.
   * @param path absolute, its parts separated by `/`
   */
  read(path: string): Promise<FileReading>;
}

export type FileReading = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly problem: FileProblem };

export interface FileProblem extends Message {
  readonly code: keyof typeof FILE_PROBLEMS;
}

/** Why a file cannot be read, to read after its name and a colon. */
export const FILE_PROBLEMS = {
  missing: 'there is no such file',
  folder: 'this is a folder, expected a file',
  special: 'this is neither a file nor a folder',
  unreadable: 'it cannot be read ({reason})',
  outside: 'it lies outside the folder {root}, from which nothing is read',
  linked: 'it is reached through a link, and it cannot be seen from here where that leads',
  'too-large': 'it holds {size} MB, more than the 50 MB that are read',
  'utf-16': 'it is written in UTF-16: save it as UTF-8',
  binary: 'it is no text (line {line} holds a zero byte)',
  'not-utf8': 'it is not UTF-8 (line {line} holds bytes that are no text): save it as UTF-8',
} as const;

export const problemText = (problem: FileProblem, say: Say = fill): string => worded(phraseOf(FILE_PROBLEMS, problem), say);

export const refused = (code: FileProblem['code'], args: Message['args'] = {}): Extract<FileReading, { ok: false }> => ({
  ok: false,
  problem: { code, args },
});

/** The largest file that is read: 50 MB, of a million bytes each. */
export const MOST_BYTES = 50_000_000;

export const tooLarge = (bytes: number): Extract<FileReading, { ok: false }> =>
  refused('too-large', { size: (Math.ceil(bytes / 1e5) / 10).toFixed(1) });

// The Encoding Standard's, there in browsers and Node alike. Declared for this module only, as the core knows neither of them.
declare const TextDecoder: new (
  label: 'utf-8',
  options: { readonly fatal: true; readonly ignoreBOM: true },
) => { decode(bytes: Uint8Array): string };

/** Bytes as text, a byte order mark kept: nothing is replaced, so that a text written back is the text that was read. */
export function decoded(bytes: Uint8Array): FileReading {
  if (bytes.length > MOST_BYTES) return tooLarge(bytes.length);
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff)) return refused('utf-16');
  const zero = bytes.indexOf(0);
  if (zero >= 0) return refused('binary', { line: lineOf(bytes, zero) });
  try {
    return { ok: true, text: strict.decode(bytes) };
  } catch {
    return refused('not-utf8', { line: firstBadLine(bytes) });
  }
}

const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
const LF = 10;

function lineOf(bytes: Uint8Array, at: number): number {
  let line = 1;
  for (let i = bytes.indexOf(LF); i >= 0 && i < at; i = bytes.indexOf(LF, i + 1)) line++;
  return line;
}

/** No character of UTF-8 holds the byte of a line end, so each line can be decoded by itself. */
function firstBadLine(bytes: Uint8Array): number {
  let line = 1;
  for (let start = 0; start < bytes.length; line++) {
    const end = bytes.indexOf(LF, start);
    try {
      strict.decode(bytes.subarray(start, end < 0 ? bytes.length : end));
    } catch {
      break;
    }
    if (end < 0) break;
    start = end + 1;
  }
  return line;
}
