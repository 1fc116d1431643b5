import { isMeasured, MEASURES } from '../measure/specs';
import { measuresJson, measuresMarkdown, measuresText } from '../report/measures';
import { CannotRun, say } from './io';

export const MEASURES_FORMS = ['text', 'md', 'json'] as const;

const MAKE = {
  text: measuresText,
  md: measuresMarkdown,
  json: (kinds: readonly string[]) => `${JSON.stringify(measuresJson(kinds), undefined, 2)}\n`,
} as const;

/** What is computed: the table of measures, all of it or that of one kind of run. */
export async function measures(
  kind: string | undefined,
  { format }: { readonly format: (typeof MEASURES_FORMS)[number] },
): Promise<number> {
  const kinds = Object.keys(MEASURES);
  if (kind !== undefined && !isMeasured(kind)) throw new CannotRun(`${kind}: expected a kind of run: ${kinds.join(', ')}`);
  say(MAKE[format](kind === undefined ? kinds : [kind]));
  return 0;
}
