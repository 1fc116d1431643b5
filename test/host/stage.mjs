// What the browser-driven tests run on; run.mjs sets it before it loads them.
export const stage = {
  /** @type {import('playwright-core').Browser} */
  browser: undefined,
  /** @type {Awaited<ReturnType<typeof import('./workbench.mjs').startHost>>} */
  host: undefined,
  /** The package that is tested. */
  vsix: '',
};
