/** From package.json, put in when the bundle is built. */
declare const NITBOOK_VERSION: string;

export const version = NITBOOK_VERSION;
