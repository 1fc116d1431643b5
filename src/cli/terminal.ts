/** Paints a word for a terminal; leaves it plain for pipes and files, and where NO_COLOR is set (no-color.org). */
export function coloured(stream: NodeJS.WriteStream): (word: string, colour: number) => string {
  const on = stream.isTTY === true && !process.env.NO_COLOR && process.env.TERM !== 'dumb';
  return (word, colour) => (on ? `\u001B[${colour}m${word}\u001B[0m` : word);
}
