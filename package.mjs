// Makes the package for VS Code of what is built: node package.mjs [FILE]
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { createVSIX } from '@vscode/vsce';

const { name, version } = JSON.parse(readFileSync('package.json', 'utf8'));
const { positionals } = parseArgs({ allowPositionals: true });
const [packagePath = `${name}-${version}.vsix`] = positionals;

/**
 * The README for an extension's page, which shows images of the web alone and follows no link into the package: without its images, without
 * what is for those who have the sources, and with other pages named only. Blocks of code stay as they are.
 */
const forPage = (markdown) =>
  markdown
    .replace(/<!-- sources -->.*?<!-- \/sources -->\n*/gs, '')
    .split(/^(```.*?^```$)/ms)
    .map((part) =>
      part.startsWith('```')
        ? part
        : part
            .replace(/!\[[^\]]*\]\((?!https:)[^)]*\)\n*/g, '')
            .replace(/\[([^\]]*)\]\((?!https:)[^)]*\)/g, '$1')
            .replace(/<!-- ci: run -->\n*/g, ''),
    )
    .join('');

mkdirSync('dist', { recursive: true });
writeFileSync('dist/readme.md', forPage(readFileSync('README.md', 'utf8')));
await createVSIX({
  packagePath,
  readmePath: 'dist/readme.md',
  dependencies: false,
  // The project has no public home yet; vsce asks for one to complete links, of which none is left.
  allowMissingRepository: true,
  rewriteRelativeLinks: false,
});
