import assert from 'node:assert/strict';
import { readFromPage as readFromPreview, readPlace } from '../../src/preview/protocol';
import { readFromHost } from '../../src/sheet/protocol';
import { Server } from '../../src/sheet/server';
import { fill } from '../../src/text/message';
import { FakeDocument } from '../sheet/bench';
import type { Step } from './targets';

/** A sheet of a session whose page says whatever it likes: the host answers in its own language, and the text stays one that can be read. */
export async function checkMessages(
  { text, messages }: { readonly text: string; readonly messages: readonly unknown[] },
  step: Step,
): Promise<void> {
  const document = new FakeDocument(text);
  const server = new Server(
    document,
    {
      post: (message) =>
        assert.ok(readFromHost(JSON.parse(JSON.stringify(message))), `not understood: ${JSON.stringify(message).slice(0, 300)}`),
      log: () => {},
      run: async () => document.undo(),
      openText: () => {},
      looked: () => void document.analysis().then((analysis) => server.tellNoticed(analysis) && server.tellResults(analysis)),
    },
    fill,
    (template) => template,
  );
  document.onChange = () => server.changed();
  server.receive({ kind: 'ready', proto: 1 });
  for (const message of messages) {
    step('take a message', () => server.receive(message));
    await step('answer it', () => server.idle());
    step('read a message to the preview', () => [readFromPreview(message), readPlace(message)]);
  }
  const analysis = await document.analysis();
  server.tellResults(analysis);
  server.tellStandings(analysis);
  assert.equal(document.source.lines.map((line) => line.text + line.eol).join(''), document.text);
}
