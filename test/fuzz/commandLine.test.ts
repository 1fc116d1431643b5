import { describe, expect, it } from 'vitest';
import { checkCommandLine } from './commandLine';

describe('a command line that is tried', () => {
  const isRun = async (...args: readonly string[]): Promise<boolean> => {
    const names: string[] = [];
    await checkCommandLine({ args, session: Buffer.from('nitbook 1\n'), config: undefined }, (name, step) => {
      names.push(name);
      return step();
    });
    return names.length > 0;
  };

  it.each([
    [['check', '.']],
    [['check', '/']],
    [['check', '..']],
    [['format', '/', 'measures']],
    [['format', '..']],
    [['value', '/aurora.nitbook#grey.de.max']],
    [['value', '../../above.nitbook#a.b']],
    [['value', '%2e%2e/%2E./above.nitbook#a.b']],
  ])('is run where it stays in its folders: %j', async (args) => {
    expect(await isRun(...args)).toBe(true);
  });

  it.each([
    [['check', '../..']],
    [['format', 'sub/../../..']],
    [['format', '/../..']],
    [['format', '--root=../..', '.']],
    [['format', '--root=/', '..']],
    [['check', '../../above.nitbook#a']],
    [['value', '--root', '../..', 'a.nitbook#a.b']],
  ])('is not where it leaves them: %j', async (args) => {
    expect(await isRun(...args)).toBe(false);
  });
});
