import { type Phrase, phrase, worded } from '../../text/message';
import type { Cautions, Manner } from './parts';

/** The usual cautions of the trade. */
const SENTENCES: readonly Phrase[] = [
  phrase('Test patterns can flash. Keep them from viewers who are sensitive to it, and stop when anyone feels unwell.'),
  phrase("Bright patterns that stand still can leave an image behind. Follow the maker's advice on breaks and pixel care."),
  phrase('A full field in HDR is uncomfortably bright in a dark room. Keep it short.'),
  phrase(
    "Service menus and opened sets carry mains voltage and may void the warranty. Leave them to the maker's instructions, local rules and qualified people.",
  ),
];

export const cautions = ({ say }: Manner): Cautions => ({
  is: 'cautions',
  title: say('Care'),
  sentences: SENTENCES.map((sentence) => worded(sentence, say)),
});
