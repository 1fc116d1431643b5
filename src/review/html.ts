/** Text of a file as text of a page, also in attributes: nothing in it is markup, turns the direction of reading or hides. */
export { escaped as html } from '../figure/picture';
