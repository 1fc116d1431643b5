import { visible } from '../report/format';

/** Text of a file as text of a page, also in attributes: nothing in it is markup, turns the direction of reading or hides. */
export const html = (text: string): string => visible(text).replace(/[&<>"']/g, (mark) => ENTITIES[mark]!);

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
