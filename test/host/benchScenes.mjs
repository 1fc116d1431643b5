// What is worth seeing of the hands' work at the bench: the list of sessions, what is still to take, a look at pasted rows, a new session,
// the walkthrough.
const rows = [
  'Stimulus\tLuminance\tx\ty\tComment',
  '40\t13.31\t0.3102\t0.3271\t',
  '50\t22.4\t0.3098\t0.3266\tsettled',
  '100\t119.4\t0.3090\t0.3249\t',
  '75\t1.204,5\t0.3097\t0.3260\t',
];

/** Plays the scenes one after the other; `look(name, isHeld)` takes a picture of each, the mouse staying where it is when it is held. */
export async function playBenchScenes(bench, look) {
  const { page, quick } = bench;
  await bench.openFile('aurora.nitbook');
  await bench.command('Explorer: Focus on Sessions View');
  const view = page.locator('.pane', { has: page.locator('.pane-header[aria-label^="Sessions"]') });
  const display = view.locator('.monaco-list-row', { hasText: 'Halden' }).first();
  await display.waitFor();
  const files = page.locator('.pane-header[aria-label^="Explorer Section"][aria-expanded="true"]');
  if (await files.isVisible()) await files.click();
  await bench.command('Explorer: Focus on Sessions View');
  // As in the theme before, what was opened is still open.
  await page.keyboard.press('Control+ArrowLeft');
  await page.keyboard.press('Home');
  // Keys alone: a click would open the session.
  for (let row = 0; row < 12; row++) {
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowDown');
  }
  await bench.tab('aurora.nitbook').click();
  await bench.command('Nitbook: Next Reading to Take');
  await page.locator('.statusbar-item', { hasText: 'to take' }).first().waitFor();
  await look('sessions');

  await page.locator('.statusbar-item', { hasText: 'to take' }).first().hover();
  await page.locator('.monaco-hover:visible', { hasText: 'grey' }).first().waitFor();
  await look('standing', true);

  await page.keyboard.press('Control+B');
  await page.evaluate((text) => navigator.clipboard.writeText(text), rows.join('\n'));
  await bench.goTo(71, 13);
  await page.keyboard.press('Control+V');
  const question = quick.locator('.monaco-list-row', { hasText: 'Leave them out' });
  await question.waitFor();
  await question.click();
  await quick.locator('.monaco-list-row', { hasText: 'Put into grey' }).waitFor();
  await look('paste');
  await page.keyboard.press('Escape');

  await bench.command('Nitbook: New Session…');
  await quick.locator('.monaco-list-row', { hasText: 'SDR full' }).waitFor();
  await look('plans');
  await page.keyboard.press('Escape');

  await bench.command('Welcome: Open Walkthrough...');
  await bench.pick('A Day at the Bench');
  await page.locator('.getting-started-step', { hasText: 'Begin with a plan' }).waitFor();
  await look('walkthrough');
  await page.locator('.getting-started-step', { hasText: 'See a slip at once' }).click();
  await page.locator('.getting-started-media img:visible, .getting-started-media iframe:visible').first().waitFor();
  await look('walkthrough-mend');
  await bench.command('View: Close All Editors');
}
