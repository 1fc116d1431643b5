import { hdrMistakes } from './hdrMistakes';
import { mistakes } from './mistakes';
import { auroraDay, meadowDay } from './sessions';

/** Every generated file, by its path in the project. Pure: the same text at every call. */
export function files(): Record<string, string> {
  const bad = { 'bench-mistakes': mistakes(), 'hdr-mistakes': hdrMistakes() };
  return {
    'examples/aurora-55.nitbook': auroraDay(),
    'examples/meadow-65.nitbook': meadowDay(),
    ...Object.fromEntries(
      Object.entries(bad).flatMap(([name, { text, faults }]) => [
        [`examples/${name}.nitbook`, text],
        [`test/examples/${name}.json`, `${JSON.stringify({ session: `examples/${name}.nitbook`, faults }, null, 2)}\n`],
      ]),
    ),
  };
}
