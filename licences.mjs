// What others wrote and a bundle holds, with the terms it is given under: they ask to stand beside every copy.
import { readdirSync, readFileSync } from 'node:fs';

/** The folders of packages that a bundle has something of, by its metafile; a package may lie in another's folder. */
const foldersOf = ({ inputs }) => Object.keys(inputs).flatMap((path) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0] ?? []);

function terms(folder) {
  const { name, version, license, repository } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
  const file = readdirSync(folder).find((each) => /^(?:licen[cs]e|copying)(?:\.(?:md|txt))?$/i.test(each));
  const from = (repository?.url ?? repository ?? '').replace(/^git\+/, '');
  return [`${name} ${version} (${license})${from === '' ? '' : `, ${from}`}`, file ? readFileSync(`${folder}/${file}`, 'utf8').trim() : ''];
}

/**
 * @param metafile of esbuild
 * @param beside packages of which files stand beside the bundle
 */
export function licences(metafile, beside = []) {
  const folders = new Set([...foldersOf(metafile), ...beside.map((name) => `node_modules/${name}`)]);
  const parts = [...folders].map(terms).sort(([a], [b]) => (a < b ? -1 : 1));
  return `${parts.map((part) => part.filter((text) => text !== '').join('\n\n')).join(`\n\n${'-'.repeat(80)}\n\n`)}\n`;
}
