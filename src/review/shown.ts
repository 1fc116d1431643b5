import { sentence } from '../text/finding';
import type { Say } from '../text/message';
import { type Checked, checkReview, type KnownSessions, ledOf, type ReviewPlace } from './check';
import { type FenceGroup, readFence } from './fences/language';
import { partsOf } from './fences/make';
import type { LedGroup, Part } from './fences/parts';
import { fenceText } from './instructions';
import { mayRefer } from './markdown';
import type { Mention } from './mention';
import { notationOf } from './notation';
import { Written } from './written';

/** A review that is being shown: where it stands, what is known of its sessions, and in which language things are said of it. */
export interface Showing {
  readonly place: ReviewPlace;
  readonly sessions: KnownSessions;
  readonly say: Say;
}

/** What became of one reference, and what is to be said of it. */
export interface Told {
  readonly checked: Checked;
  readonly says: readonly string[];
}

/** Holds one link or image against its session. */
export function told(is: 'link' | 'image', target: string, text: string, { place, sessions, say }: Showing): Told {
  const label = new Written();
  label.add(text, [0, text.length], true);
  const mention: Mention = { is, span: [0, text.length], label, labelSpan: [0, text.length], target, targetSpan: [0, 0], isPlain: false };
  const { checked, findings } = checkReview({ text, mentions: [mention], prose: [], fences: [] }, place, sessions);
  return { checked: checked[0]!, says: findings.map((finding) => sentence(finding, say)) };
}

/** What is shown in the place of a fenced block, in the order of its lines. */
export type Shown =
  | { readonly is: 'part'; readonly part: Part }
  /** What is mistaken, and in which line. */
  | { readonly is: 'problem'; readonly line: string; readonly sentence: string }
  /** Its session is still to be read. */
  | { readonly is: 'pending'; readonly group: FenceGroup };

/** @param isCautioned whether the cautions stand above already */
export function shownOf(content: string, { place, sessions, say }: Showing, isCautioned: boolean): readonly Shown[] {
  const fence = fenceText(content);
  const mentions = fence.mentions.filter(({ target }) => mayRefer(target));
  const { checked, findings } = checkReview({ text: content, mentions, prose: [], fences: [fence] }, place, sessions);
  const byPlace = new Map(checked.map((each) => [each.mention.targetSpan[0], each]));
  const lineAt = (offset: number) => fence.starts.findLastIndex((start) => start <= offset);
  const lines = content.split('\n');
  const found: (readonly [line: number, shown: Shown])[] = findings
    .filter(({ severity }) => severity !== 'info')
    .map((finding) => {
      const line = lineAt(finding.span[0]);
      return [line, { is: 'problem', line: lines[line]!.trim(), sentence: sentence(finding, say) }];
    });
  const manner = { say, notation: notationOf(place.config.language) };
  for (const group of readFence(content).groups) {
    const { line, instruction } = group[0];
    if (instruction === 'cautions' && isCautioned) continue;
    const outcomes = group.map((each) => each.target && byPlace.get(fence.starts[each.line]! + each.target.span[0]));
    if (outcomes.some((outcome) => outcome?.status === 'pending')) {
      found.push([line, { is: 'pending', group }]);
      continue;
    }
    const leds = outcomes.flatMap((outcome) => ledOf(outcome) ?? []);
    if (instruction !== 'cautions' && leds.length < group.length) continue;
    for (const making of partsOf(instruction, leds as unknown as LedGroup, manner)) {
      if (making.ok) found.push([line, { is: 'part', part: making.part }]);
    }
  }
  return found.sort(([a], [b]) => a - b).map(([, shown]) => shown);
}
