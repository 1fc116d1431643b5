import { type Edits, isRefusal } from '../language/answers';
import type { Message } from '../text/message';
import { refuse } from './ops';
import type { Answer, EditMessage } from './protocol';

/** So many answers are remembered, for an edit that is sent again. */
const REMEMBERED = 512;
/** How often an edit is tried that the document does not take. */
const TRIES = 3;

/** What a queue writes into. */
export interface Writable {
  version(): number;
  /** The edits that a message means in the text as it stands now. */
  plan(message: EditMessage): Edits | Promise<Edits>;
  /** Whether the edits were taken; the page has been told of what they changed before this resolves. */
  apply(edits: Exclude<Edits, Message>, seq: number): Promise<boolean>;
  answer(answer: Answer): void;
  sentence(refusal: Message): string;
}

/**
 * Edits of one page, one after the other: each is planned in the text that the one before has left, so that none is lost and none meets a
 * text that it does not mean. An edit that was answered before is answered so again, and not made twice.
 */
export class Queue {
  private readonly answers = new Map<number, Answer>();
  private readonly waiting = new Set<number>();
  private last: Promise<void>;

  /** @param after what is still under way, of a page before this one */
  constructor(
    private readonly epoch: string,
    private readonly document: Writable,
    after: Promise<void> = Promise.resolve(),
  ) {
    this.last = after;
  }

  /** Edits of another epoch are of a page that is gone. */
  edit(message: EditMessage): void {
    const { epoch, seq } = message;
    if (epoch !== this.epoch || this.waiting.has(seq)) return;
    const known = this.answers.get(seq);
    if (known) {
      this.document.answer(known);
      return;
    }
    this.waiting.add(seq);
    this.last = this.last.then(async () => this.close(await this.made(message).catch((error) => this.failed(message, error))));
  }

  /** Does something when all that was asked for so far is answered; what is asked for later waits for it. */
  link(work: () => Promise<void>): void {
    this.last = this.last.then(work);
  }

  /** Resolves when all that was asked for so far is answered. */
  idle(): Promise<void> {
    return this.last;
  }

  private close(answer: Answer): void {
    this.waiting.delete(answer.seq);
    this.answers.set(answer.seq, answer);
    if (this.answers.size > REMEMBERED) this.answers.delete(this.answers.keys().next().value!);
    this.document.answer(answer);
  }

  private async made(message: EditMessage): Promise<Answer> {
    const { document } = this;
    for (let attempt = 0; attempt < TRIES; ) {
      const version = document.version();
      const edits = await document.plan(message);
      // The text went on while the plan was made: another plan, and no attempt.
      if (document.version() !== version) continue;
      if (isRefusal(edits)) return this.refused(message, edits);
      if (edits.length === 0 || (await document.apply(edits, message.seq))) return this.done(message);
      attempt++;
    }
    return this.refused(message, refuse('not-written'));
  }

  private done({ seq }: EditMessage): Answer {
    return { kind: 'ack', epoch: this.epoch, seq, version: this.document.version() };
  }

  private refused({ seq }: EditMessage, refusal: Message): Answer {
    return { kind: 'nack', epoch: this.epoch, seq, why: refusal.code, text: this.document.sentence(refusal) };
  }

  private failed({ seq }: EditMessage, error: unknown): Answer {
    return { kind: 'nack', epoch: this.epoch, seq, why: 'failed', text: String(error) };
  }
}
