import { cautions } from './cautions';
import { compare } from './compare';
import { drawing } from './drawn';
import type { Instruction } from './language';
import { method } from './method';
import { type LedGroup, type Making, type Manner, made } from './parts';
import { settings } from './settings';
import { summary } from './summary';

const MAKERS: Readonly<Record<Exclude<Instruction, 'cautions'>, (leds: LedGroup, manner: Manner) => readonly Making[]>> = {
  settings: (leds, manner) => [settings(leds, manner)],
  summary: (leds, manner) => [summary(leds, manner)],
  compare: (leds, manner) => [compare(leds, manner)],
  figure: (leds, manner) => [drawing(leds, manner)],
  method,
};

/** What lines of one instruction make together. @param leds empty for an instruction that takes no reference */
export function partsOf(instruction: Instruction, leds: LedGroup | readonly [], manner: Manner): readonly Making[] {
  if (instruction === 'cautions') return [made(cautions(manner))];
  const [first, ...others] = leds;
  return first ? MAKERS[instruction]([first, ...others], manner) : [];
}
