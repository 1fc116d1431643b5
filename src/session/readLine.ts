import { endBeforeBlanks, isBlank, skipBlanks } from '../text/blanks';
import { type LocalMend, type Problem, problem } from '../text/finding';
import { phrase } from '../text/message';
import type { Span } from '../text/span';
import type { ColumnName, HeaderLine, Line, LineBase, PropertyLine, Word } from './line';
import { CellKind, quoted, stringEnd, unquoted } from './line';
import { isDigit, isMinusLike, readNumber, scannedTo, scanPlain } from './number';
import * as state from './state';
import { blockSpec, isKeyword } from './vocabulary';

const HASH = 35;
const BAR = 124;
const QUOTE = 34;
const TILDE = 126;
const COLON = 58;
const LESS = 60;
const GREATER = 62;
const MINUS = 45;
const QUESTION = 63;
const TAB = 9;
const WIDE_COLON = 0xff1a;

/**
 * Reads one line of a session. Total: every text is a line of some kind, and what cannot be understood is kept with a problem.
 * @param text the line without its end
 * @param before what the lines above have settled
 */
export function readLine(text: string, eol: LineBase['eol'], before: state.State): Line {
  return new LineReader(text, eol, before).read();
}

const NO_PROBLEMS: Problem[] = [];
const CELLS: number[] = [];
const VALUES: number[] = [];
/** Of a row with more cells than these, the lists do not keep the room. */
const MOST_KEPT = 256;

class LineReader {
  // Shared until there is a first problem: nearly all lines of a long run have none.
  private problems: Problem[] = NO_PROBLEMS;
  private struck = false;
  private after: state.State;

  constructor(
    private readonly text: string,
    private readonly eol: LineBase['eol'],
    private readonly before: state.State,
  ) {
    this.after = state.afterFirstLine(before);
  }

  private base(): LineBase {
    return { text: this.text, eol: this.eol, before: this.before, after: this.after, struck: this.struck, problems: this.problems };
  }

  private plain(kind: 'blank' | 'comment' | 'note' | 'conflict' | 'held' | 'other'): Line {
    return { kind, ...this.base() };
  }

  private say(code: Problem['code'], span: Span, args: Problem['args'] = {}, mends: readonly LocalMend[] = []): void {
    if (this.problems === NO_PROBLEMS) this.problems = [];
    this.problems.push(problem(code, span, args, mends));
  }

  /** A byte order mark belongs to the encoding, not to the first line's text. */
  private start(): number {
    return state.isFirstLine(this.before) && this.text.charCodeAt(0) === 0xfeff ? 1 : 0;
  }

  read(): Line {
    const { text, before } = this;
    const start = this.start();
    if (isConflictMark(text, start)) return this.conflict(start);
    if (state.inConflict(before)) return this.plain('held');

    let at = skipBlanks(text, start);
    if (at === text.length) return this.plain('blank');
    const first = text.charCodeAt(at);
    if (first === HASH) return this.plain('comment');
    if (first === BAR) return this.plain('note');

    if (!state.isStarted(before)) {
      this.after = state.started(this.after);
      const version = at === start ? this.version(start) : undefined;
      if (version) return version;
      this.say('version-missing', [at, text.length], {}, [{ args: {}, edits: [{ span: [start, start], text: 'nitbook 1\n' }] }]);
    }

    const flush = at === start;
    if (first === TILDE) {
      const next = skipBlanks(text, at + 1);
      if (next === text.length) {
        this.say('line-unread', [at, at + 1], { expected: phrase('a row, property or head behind the ~') });
        return this.plain('other');
      }
      this.struck = true;
      at = next;
      const behind = text.charCodeAt(at);
      if (behind === HASH || behind === BAR) return this.plain(behind === HASH ? 'comment' : 'note');
    }
    return flush ? this.flushLine(at) : this.indentedLine(at);
  }

  private conflict(start: number): Line {
    const mark = this.text[start];
    let end = start;
    while (this.text[end] === mark) end++;
    this.say('merge-conflict', [start, end]);
    // Only the outer marks open and close: one of the inner ones left behind must not take the rest of the file with it.
    if (mark === '<' || mark === '>') this.after = state.withConflict(this.after, mark === '<');
    return this.plain('conflict');
  }

  private version(start: number): Line | undefined {
    const { text } = this;
    if (!text.startsWith('nitbook', start)) return undefined;
    const digits = skipBlanks(text, start + 7);
    if (digits === start + 7) return undefined;
    let end = digits;
    while (end < text.length && isDigit(text.charCodeAt(end))) end++;
    if (end === digits || this.contentEnd(end) !== end) return undefined;
    const version = Number(text.slice(digits, end));
    if (version > 1) this.say('version-newer', [digits, end], { version });
    return { kind: 'version', ...this.base(), version, at: [digits, end] };
  }

  /** A line that starts at the beginning: the head of a block, or something that should have been indented. */
  private flushLine(at: number): Line {
    const { text, before } = this;
    const spec = blockSpec(state.keywordOf(before) ?? '');
    if (spec?.table && !state.columnsMet(before)) {
      const columns = this.columnNames(at);
      if (columns?.length && columns.every((c) => !c.quoted && Object.hasOwn(spec.table!.columns, c.name))) return this.notIndented(at);
    }
    const wordEnd = idEnd(text, at);
    const word = text.slice(at, wordEnd);
    const followed = wordEnd === text.length || isBlank(text.charCodeAt(wordEnd));
    if (followed && word !== '' && text.charCodeAt(skipBlanks(text, wordEnd)) !== COLON) {
      if (isKeyword(word)) return this.header(at, wordEnd);
      const rest = this.headerParts(wordEnd);
      if (rest.leftover === undefined && this.propertyColon(at) < 0) return this.header(at, wordEnd);
    }
    return this.notIndented(at);
  }

  private notIndented(at: number): Line {
    const line = this.indentedLine(at);
    if (line.kind !== 'property' && line.kind !== 'row' && line.kind !== 'columns') return line;
    const start = this.start();
    const indent = line.kind === 'property' || this.struck ? '  ' : '    ';
    let end = at;
    while (end < this.text.length && !isBlank(this.text.charCodeAt(end))) end++;
    this.say('not-indented', [start, end], {}, [{ args: {}, edits: [{ span: [start, start], text: indent }] }]);
    return { ...line, problems: this.problems };
  }

  private header(at: number, wordEnd: number): HeaderLine {
    const { text } = this;
    const keyword: Word = { text: text.slice(at, wordEnd), span: [at, wordEnd] };
    const { leftover, ...parts } = this.headerParts(wordEnd);
    this.after = state.inBlock(this.after, keyword.text);
    if (leftover && text.charCodeAt(leftover[0]) === QUOTE && stringEnd(text, leftover[0], leftover[1]) < 0) {
      this.openString(leftover);
    } else if (leftover) {
      const isText = text.charCodeAt(leftover[0]) !== QUOTE;
      const mended = quoted(text.slice(...leftover).replace(/"/g, ''));
      this.say(
        'header-part',
        leftover,
        { expected: phrase('Expected an id, a title in quotation marks, or "from" or "like" and an id'), mended },
        isText && !parts.title && !parts.link ? [{ args: { mended }, edits: [{ span: leftover, text: mended }] }] : [],
      );
    }
    return { kind: 'header', ...this.base(), keyword, ...parts };
  }

  private headerParts(from: number): Pick<HeaderLine, 'id' | 'date' | 'title' | 'link'> & { leftover?: Span } {
    const { text } = this;
    const end = this.contentEnd(from);
    const parts: { -readonly [K in 'id' | 'date' | 'title' | 'link']?: NonNullable<HeaderLine[K]> } & { leftover?: Span } = {};
    let at = skipBlanks(text, from, end);
    const dateEnd = dateEndAt(text, at, end);
    if (dateEnd > at) {
      parts.date = { text: text.slice(at, dateEnd), span: [at, dateEnd] };
      at = skipBlanks(text, dateEnd, end);
    } else if (!this.linkAt(at, end)) {
      const stop = idEnd(text, at);
      if (stop > at && (stop === end || isBlank(text.charCodeAt(stop)))) {
        parts.id = { text: text.slice(at, stop), span: [at, stop] };
        at = skipBlanks(text, stop, end);
      }
    }
    if (text.charCodeAt(at) === QUOTE && at < end) {
      const close = stringEnd(text, at, end);
      if (close > 0 && (close === end || isBlank(text.charCodeAt(close)))) {
        parts.title = { text: unquoted(text.slice(at, close)), span: [at, close] };
        at = skipBlanks(text, close, end);
      }
    }
    const link = this.linkAt(at, end);
    if (link) {
      parts.link = link;
      at = skipBlanks(text, link.id.span[1], end);
    }
    if (at < end) parts.leftover = [at, end];
    return parts;
  }

  private linkAt(at: number, end: number): HeaderLine['link'] {
    const { text } = this;
    const wordEnd = at + 4;
    const word = text.slice(at, wordEnd);
    if ((word !== 'from' && word !== 'like') || !isBlank(text.charCodeAt(wordEnd))) return undefined;
    const idAt = skipBlanks(text, wordEnd, end);
    const stop = idEnd(text, idAt);
    if (stop === idAt || !(stop === end || isBlank(text.charCodeAt(stop)))) return undefined;
    return { word, at: [at, wordEnd], id: { text: text.slice(idAt, stop), span: [idAt, stop] } };
  }

  /** A line inside a block. */
  private indentedLine(at: number): Line {
    const { text, before } = this;
    const keyword = state.keywordOf(before);
    const table = state.hasTable(before);
    if (state.beforeAnyBlock(before)) {
      const header = this.indentedHeader(at);
      if (header) return header;
      this.say('before-any-block', [at, text.length]);
      return this.plain('other');
    }
    const first = text.charCodeAt(at);
    if (table && startsReading(first)) return this.tableRow(at);
    const colon = this.propertyColon(at);
    if (colon >= 0) return this.property(at, colon);
    const wide = this.wideColon(at);
    if (wide) return wide;
    if (table) {
      const known = blockSpec(keyword!)!.table!.columns;
      const isKnown = (column: ColumnName): boolean => !column.quoted && Object.hasOwn(known, column.name);
      if (!state.columnsMet(before)) {
        const names = this.columnNames(at);
        const header = names?.some(isKnown) ? undefined : this.indentedHeader(at);
        if (header) return header;
        if (names) {
          if (!this.struck) this.after = state.withColumns(this.after);
          return { kind: 'columns', ...this.base(), columns: names };
        }
      } else if (Object.hasOwn(known, this.word(at))) {
        const names = this.columnNames(at);
        if (names && names.length > 1 && names.every(isKnown)) {
          if (this.struck) return { kind: 'columns', ...this.base(), columns: names };
          this.say('columns-second', [at, this.contentEnd(at)]);
          return this.plain('other');
        }
      }
      return this.indentedHeader(at) ?? this.tableRow(at);
    }
    const header = this.indentedHeader(at);
    if (header) return header;
    if (keyword !== undefined) {
      if (first === QUOTE && stringEnd(text, at, text.length) < 0) this.openString([at, this.contentEnd(at)]);
      else this.say('line-unread', [at, this.contentEnd(at)], { expected: phrase('a property, "name: value"') });
    }
    return this.plain('other');
  }

  /** The word at `at`, up to a blank or a bracket. */
  private word(at: number): string {
    const { text } = this;
    let end = at;
    while (end < text.length && !isBlank(text.charCodeAt(end)) && text[end] !== '[') end++;
    return text.slice(at, end);
  }

  private indentedHeader(at: number): Line | undefined {
    const { text } = this;
    const stop = idEnd(text, at);
    const word = text.slice(at, stop);
    if (!isKeyword(word) || !(stop === text.length || isBlank(text.charCodeAt(stop)))) return undefined;
    if (this.headerParts(stop).leftover) return undefined;
    const start = this.start();
    const indent: Span = [start, skipBlanks(text, start)];
    this.say('header-indented', [at, stop], { keyword: word }, [{ args: {}, edits: [{ span: indent, text: '' }] }]);
    return this.plain('other');
  }

  /** The offset of the colon that ends a property's name, or -1 when the line is none. */
  private propertyColon(at: number): number {
    return this.nameColon(at, COLON);
  }

  private nameColon(at: number, mark: typeof COLON | typeof WIDE_COLON): number {
    const { text } = this;
    // Most lines of a run have none.
    if (!text.includes(mark === COLON ? ':' : '：', at)) return -1;
    const ends = (i: number): boolean => text.charCodeAt(i) === mark && (mark === WIDE_COLON || endsName(text, i));
    if (text.charCodeAt(at) === QUOTE) {
      const close = stringEnd(text, at, text.length);
      const colon = close < 0 ? text.length : skipBlanks(text, close);
      return ends(colon) ? colon : -1;
    }
    for (let i = at; i < text.length; i++) {
      if (ends(i)) return i > at ? i : -1;
      const code = text.charCodeAt(i);
      if (code === QUOTE) return -1;
      if (code === BAR && isBlank(text.charCodeAt(i - 1))) return -1;
      if (code === HASH && isTail(text, i)) return -1;
    }
    return -1;
  }

  private wideColon(at: number): Line | undefined {
    const { text } = this;
    const wide = this.nameColon(at, WIDE_COLON);
    if (wide < 0) return undefined;
    const gap = endsName(text, wide) ? ':' : ': ';
    const name = text.slice(at, endBeforeBlanks(text, at, wide));
    this.say('colon-wide', [wide, wide + 1], { name }, [{ args: {}, edits: [{ span: [wide, wide + 1], text: gap }] }]);
    return this.plain('other');
  }

  private property(at: number, colon: number): PropertyLine {
    const { text } = this;
    const nameEnd = endBeforeBlanks(text, at, colon);
    const isQuoted = text.charCodeAt(at) === QUOTE;
    const raw = text.slice(at, nameEnd);
    const name: Word = { text: (isQuoted ? unquoted(raw) : raw).normalize('NFC'), span: [at, nameEnd] };
    // Read before the rest is put together, as reading it may say something.
    const value = this.propertyValue(colon + 1);
    return { kind: 'property', ...this.base(), name, quoted: isQuoted, value };
  }

  private propertyValue(from: number): PropertyLine['value'] {
    const { text } = this;
    const at = skipBlanks(text, from);
    const startsQuoted = text.charCodeAt(at) === QUOTE;
    const close = startsQuoted ? stringEnd(text, at, text.length) : -1;
    const end = this.contentEnd(close > 0 ? close : at > from ? at - 1 : at);
    if (end <= at) return { is: 'absent', span: [Math.min(from, text.length), Math.min(from, text.length)] };
    const span: Span = [at, end];
    if (startsQuoted && close < 0) {
      this.openString(span);
    } else if (close === end) return { is: 'string', text: unquoted(text.slice(at, end)), span };
    const value = text.slice(at, end);
    if (value === '?') return { is: 'to-note', span };
    if (value === '~') return { is: 'removed', span };
    return { is: 'text', text: value, span };
  }

  /** The column names that a line consists of; undefined when it holds anything else. */
  private columnNames(from: number): readonly ColumnName[] | undefined {
    const { text } = this;
    const end = this.contentEnd(from);
    const names: ColumnName[] = [];
    for (let at = skipBlanks(text, from, end); at < end; at = skipBlanks(text, at, end)) {
      const start = at;
      const isQuoted = text.charCodeAt(at) === QUOTE;
      if (isQuoted) {
        at = stringEnd(text, at, end);
        if (at < 0) return undefined;
      } else {
        if (!isNameStart(text.charCodeAt(at))) return undefined;
        while (at < end && !isBlank(text.charCodeAt(at)) && text[at] !== '[') at++;
      }
      const nameEnd = at;
      let unit: string | undefined;
      if (text[at] === '[') {
        const close = text.indexOf(']', at);
        if (close < 0 || close >= end) return undefined;
        unit = text.slice(at + 1, close);
        at = close + 1;
      }
      if (at < end && !isBlank(text.charCodeAt(at))) return undefined;
      const raw = text.slice(start, nameEnd);
      names.push({
        text: text.slice(start, at),
        span: [start, at],
        name: (isQuoted ? unquoted(raw) : raw).normalize('NFC'),
        quoted: isQuoted,
        ...(unit === undefined ? {} : { unit }),
      });
      // `level [10bit]`: a unit apart belongs to the name before it, as a spelling to mend.
      const next = skipBlanks(text, at, end);
      if (text[next] === '[' && unit === undefined) {
        const close = text.indexOf(']', next);
        if (close < 0 || close >= end) return undefined;
        names.pop();
        names.push({
          text: text.slice(start, close + 1),
          span: [start, close + 1],
          name: `${raw} ${text.slice(next, close + 1)}`,
          quoted: isQuoted,
        });
        at = close + 1;
      }
    }
    return names.length > 0 ? names : undefined;
  }

  /** A row, once there are columns; before them its text is kept, and the first such row of a run says what is missing. */
  private tableRow(from: number): Line {
    const { before } = this;
    if (state.columnsMet(before)) return this.row(from);
    if (!this.struck && !state.columnsMissed(before)) {
      const example = blockSpec(state.keywordOf(before)!)!.table!.example;
      const edits = [{ span: [0, 0] as const, text: `    ${example}\n` }];
      this.say('columns-missing', [from, this.contentEnd(from)], { example }, [{ args: { example }, edits }]);
      this.after = state.withColumnsMissed(this.after);
    }
    return this.plain('other');
  }

  private row(from: number): Line {
    const { text } = this;
    // Gathered in shared lists and cut out at their exact length: growing lists of their own cost more than the reading itself, and a list
    // that is emptied grows anew.
    if (VALUES.length > MOST_KEPT) CELLS.length = VALUES.length = 0;
    let count = 0;
    let remark: Word | undefined;
    let at = from;
    const length = text.length;
    while (at < length) {
      const start = at;
      const first = text.charCodeAt(at);
      if (start > from) {
        if (first === HASH && isTail(text, at)) break;
        if (first === BAR && (at + 1 === length || isBlank(text.charCodeAt(at + 1)))) {
          const remarkAt = skipBlanks(text, at + 1);
          const end = this.contentEnd(at + 1);
          remark = { text: text.slice(Math.min(remarkAt, end), end), span: [Math.min(remarkAt, end), end] };
          break;
        }
      }
      let end = at + 1;
      let kind = CellKind.Word;
      let value = Number.NaN;
      if (isDigit(first)) {
        value = scanPlain(text, at, length);
        end = scannedTo;
      }
      if (!Number.isNaN(value) && (end === length || isBlank(text.charCodeAt(end)))) {
        kind = CellKind.Number;
      } else if (first === QUOTE) {
        end = stringEnd(text, at, length);
        if (end < 0) {
          end = this.contentEnd(at);
          this.openString([at, end]);
        } else kind = CellKind.String;
        // A string is followed by a blank: what is glued to it belongs to the same, unreadable cell.
        while (end < length && !isBlank(text.charCodeAt(end))) {
          end++;
          kind = CellKind.Word;
        }
      } else {
        while (end < length && !isBlank(text.charCodeAt(end))) end++;
        if (first === LESS || first === GREATER) {
          value = readNumber(text, at + 1, end);
          if (!Number.isNaN(value)) kind = first === LESS ? CellKind.Below : CellKind.Above;
        } else if (end - at === 1 && (first === MINUS || isMinusLike(first))) kind = CellKind.None;
        else if (end - at === 1 && first === QUESTION) kind = CellKind.ToTake;
        else {
          value = readNumber(text, at, end);
          if (!Number.isNaN(value)) kind = CellKind.Number;
        }
        if (kind === CellKind.Word || kind === CellKind.None) {
          const word = end;
          end = this.apart(at, end, first);
          if (end > word) kind = CellKind.Word;
        }
      }
      CELLS[3 * count] = at;
      CELLS[3 * count + 1] = end;
      CELLS[3 * count + 2] = kind;
      VALUES[count++] = value;
      at = end;
      while (at < length && isBlank(text.charCodeAt(at))) at++;
      const behind = text.charCodeAt(at);
      if (at > end + 1 && at < length && behind !== BAR && behind !== HASH) count = this.emptyCells(end, at, count);
    }
    const { eol, before, after, struck, problems } = this;
    const cells = CELLS.slice(0, 3 * count);
    const values = VALUES.slice(0, count);
    // Spelled out: this literal is made for every reading.
    return remark === undefined
      ? { kind: 'row', text, eol, before, after, struck, problems, cells, values }
      : { kind: 'row', text, eol, before, after, struck, problems, cells, values, remark };
  }

  /** `< 0.003`, `− 3`: a sign apart from its number is taken as one cell, so that the cells behind it stay in their columns. */
  private apart(at: number, end: number, first: number): number {
    const { text } = this;
    if (end - at !== 1 || !(first === LESS || first === GREATER || first === 43 || isMinusLike(first))) return end;
    const next = skipBlanks(text, end);
    let stop = next;
    while (stop < text.length && !isBlank(text.charCodeAt(stop))) stop++;
    if (next === stop || Number.isNaN(readNumber(text, next, stop)) || !isDigit(text.charCodeAt(next))) return end;
    const sign = isMinusLike(first) ? '-' : text[at]!;
    const mended = (sign === '+' ? '' : sign) + text.slice(next, stop);
    this.say('sign-apart', [at, stop], { found: text.slice(at, stop), mended }, [
      { args: { mended }, edits: [{ span: [at, stop], text: mended }] },
    ]);
    return stop;
  }

  /** Two tabs side by side hold an empty cell between them. Returns how many cells there are then. */
  private emptyCells(from: number, to: number, count: number): number {
    const { text } = this;
    for (let i = from; i + 1 < to; i++) {
      if (text.charCodeAt(i) !== TAB || text.charCodeAt(i + 1) !== TAB) continue;
      CELLS[3 * count] = CELLS[3 * count + 1] = i + 1;
      CELLS[3 * count + 2] = CellKind.Empty;
      VALUES[count++] = Number.NaN;
      this.say('cell-empty', [i, i + 2], { mended: '?' }, [{ args: { mended: '?' }, edits: [{ span: [i + 1, i + 1], text: '?' }] }]);
    }
    return count;
  }

  private openString(span: Span): void {
    const { text } = this;
    const end = span[1];
    let from = end;
    while (from > span[0] && text[from - 1] === '\\') from--;
    // Behind an odd number of backslashes a quotation mark would be content.
    const close = (end - from) % 2 === 0 ? '"' : '\\"';
    this.say('string-open', span, {}, [{ args: {}, edits: [{ span: [end, end], text: close }] }]);
  }

  /** Where the content that starts at `from` ends: before a comment behind it, and before blanks. */
  private contentEnd(from: number): number {
    const { text } = this;
    for (let i = text.indexOf('#', from); i >= 0; i = text.indexOf('#', i + 1)) {
      if (isTail(text, i)) return endBeforeBlanks(text, from, i);
    }
    return endBeforeBlanks(text, from);
  }
}

/** Whether the `#` at `at` starts a comment behind content: a blank before it, and a blank, another # or the end behind it. */
function isTail(text: string, at: number): boolean {
  if (!isBlank(text.charCodeAt(at - 1))) return false;
  const next = text.charCodeAt(at + 1);
  return at + 1 === text.length || next === HASH || isBlank(next);
}

const endsName = (text: string, colon: number): boolean => colon + 1 === text.length || isBlank(text.charCodeAt(colon + 1));

/** In a run, a line that starts so is a row and never a property. */
const startsReading = (code: number): boolean => isDigit(code) || code === LESS || code === GREATER || code === MINUS || code === QUESTION;

const isLetter = (code: number): boolean => (code >= 65 && code <= 90) || (code >= 97 && code <= 122);
const isNameStart = (code: number): boolean => isLetter(code) || code > 0x7f;

/** Where the id (a letter, then letters, digits and hyphens) at `at` ends; `at` when there is none. */
function idEnd(text: string, at: number): number {
  if (!isLetter(text.charCodeAt(at))) return at;
  let end = at + 1;
  for (; end < text.length; end++) {
    const code = text.charCodeAt(end);
    if (!isLetter(code) && !isDigit(code) && code !== MINUS) break;
  }
  return end;
}

const DATE = /\d{4}-\d{2}-\d{2}(?: \d{2}:\d{2})?/y;
function dateEndAt(text: string, at: number, end: number): number {
  DATE.lastIndex = at;
  const found = DATE.exec(text);
  const stop = found ? at + found[0].length : at;
  return found && stop <= end && (stop === end || isBlank(text.charCodeAt(stop))) ? stop : at;
}

function isConflictMark(text: string, start: number): boolean {
  const mark = text[start];
  if (mark !== '<' && mark !== '=' && mark !== '>' && mark !== '|') return false;
  for (let i = start + 1; i < start + 7; i++) if (text[i] !== mark) return false;
  return true;
}
