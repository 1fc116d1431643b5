/** How many of the first `count` numbers are within, given that those come first. */
export function ascending(count: number, within: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (within(middle)) low = middle + 1;
    else high = middle;
  }
  return low;
}
