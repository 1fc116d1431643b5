// `npm start`: the main job on the examples, as a reader would run it.
import { spawnSync } from 'node:child_process';

const cli = new URL('../dist/cli.js', import.meta.url).pathname;

function show(...args) {
  console.log(`\n$ nitbook ${args.join(' ')}\n`);
  const { status } = spawnSync(process.execPath, [cli, ...args], { stdio: 'inherit' });
  // 1 says that there are findings, as there should be in the first example.
  if (status !== 0 && status !== 1) process.exit(status ?? 2);
}

console.log('A session with mistakes in it: each is found on its line.');
show('check', 'examples/bench-mistakes.nitbook');
console.log('\nA bench day: what was measured, and how it stands against its target.');
show('summary', 'examples/aurora-55.nitbook');
console.log('\nOne figure, with its limits and what it is against.');
show('value', 'examples/aurora-55.nitbook#grey.de.max');
console.log('\nA review whose every figure is a claim that is held against the day.');
show('check', 'examples/aurora-55.md');
console.log('\nThe reviews as pages of their own: open one in a browser.');
show('publish', 'examples/aurora-55.md', 'examples/meadow-65.md', '-o', 'dist/reviews/');
console.log(`
Next
  npm run package                                   makes nitbook-0.1.0.vsix
  code --install-extension nitbook-0.1.0.vsix       (or "Extensions: Install from VSIX…")
  code examples                                     open bench-mistakes.nitbook: findings on their lines, quick fixes, the run's figures above it
`);
