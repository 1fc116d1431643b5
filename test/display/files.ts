import { mistakes } from './mistakes';
import { auroraDay, meadowDay } from './sessions';

/** Every generated file, by its path in the project. Pure: the same text at every call. */
export function files(): Record<string, string> {
  const { text, faults } = mistakes();
  return {
    'examples/aurora-55.nitbook': auroraDay(),
    'examples/meadow-65.nitbook': meadowDay(),
    'examples/bench-mistakes.nitbook': text,
    'test/examples/bench-mistakes.json': `${JSON.stringify({ session: 'examples/bench-mistakes.nitbook', faults }, null, 2)}\n`,
  };
}
