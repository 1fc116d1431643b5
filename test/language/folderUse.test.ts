import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { folderUse, joined, NO_USE } from '../../src/language/folderUse';
import { sessionOf } from '../../src/session/session';
import { SessionText } from '../../src/session/sessionText';
import { examples } from '../session/sessions';

const TEXTS = [
  ...examples,
  'display "Halden A"\n  firmware: 1.0\nmode a\n  Gamma: 2.4\nobservations\n  Banding: slight\n',
  'display "Halden B"\n  firmware: 1.0\nmode b\n  Gamma: 2.2\nmode c\n  Gamma: 2.4\nobservations\n  Banding: none\n',
  'display "Other C"\nmode d\n  Gamma: 1\n',
  'observations\n  Banding: severe\n',
];

describe('what files use', () => {
  it('is the same counted file by file and joined as counted together', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(TEXTS), (texts) => {
        const sessions = texts.map((text) => sessionOf(SessionText.read(text)));
        expect(joined(sessions.map((session) => folderUse([session])))).toEqual(folderUse(sessions));
      }),
      { numRuns: 30 },
    );
  });

  it('of no files is nothing', () => {
    expect(joined([])).toEqual(NO_USE);
  });
});
