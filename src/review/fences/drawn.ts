import { figureAcross, type Part } from '../../figure/across';
import { FIGURE_MISTAKES } from '../../figure/figures';
import { phrase, phraseOf } from '../../text/message';
import { sessionTitles } from './blocks';
import { type LedGroup, type Making, type Manner, made, mistaken } from './parts';

/** A drawn figure, of runs of several sessions laid over each other. */
export function drawing(leds: LedGroup, { say }: Manner): Making {
  const [{ reference }] = leds;
  const other = leds.findIndex((led) => led.reference.measure !== reference.measure);
  if (other > 0) return mistaken(other, 'fence-together', { reason: phrase('Lines that make one figure all name the same') });
  const titles = sessionTitles(leds);
  const parts = [...titles].map(([path, title]): Part => {
    const own = leds.filter((led) => led.path === path);
    const { analysis } = own[0]!;
    const ids = own.flatMap((led) => led.reference.ids);
    return { analysis, id: analysis.session.first('display')?.name ?? 'session', title, reference: { ...own[0]!.reference, ids } };
  });
  const named = parts.map(
    (part, i): Part => (parts.findIndex(({ id }) => id === part.id) < i ? { ...part, id: `${part.id}-${i + 1}` } : part),
  );
  const reading = figureAcross(named as unknown as readonly [Part, ...Part[]], say);
  if (reading.ok) return made({ is: 'drawing', figure: reading.figure });
  const { code, args } = reading.mistake;
  if (code === 'not-drawn') {
    const what = phrase('The figure "{name}" of "{id}"', { name: args.name!, id: args.id! });
    return mistaken(0, 'claim-not-computed', { what, reason: args.reason! });
  }
  return mistaken(code === 'kinds-differ' || code === 'run-twice' ? leds.length - 1 : 0, 'link-unknown', {
    reason: phraseOf(FIGURE_MISTAKES, reading.mistake),
  });
}
