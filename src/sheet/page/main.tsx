import { render } from 'preact';
import { Client } from '../client';
import { readFromHost, readState } from '../protocol';
import { App } from './app';
import { Desk } from './desk';

declare function acquireVsCodeApi(): { postMessage(message: unknown): void; getState(): unknown; setState(state: unknown): void };

const api = acquireVsCodeApi();
const state = readState(api.getState());
const client = new Client((message) => api.postMessage(message), state?.kept);
const desk = new Desk(client, state?.large ?? false);

let isDrawing = false;
/** Draws once for all that happens in one turn. */
function changed(): void {
  if (isDrawing) return;
  isDrawing = true;
  queueMicrotask(() => {
    isDrawing = false;
    document.body.classList.toggle('large', desk.large);
    render(<App desk={desk} />, document.body);
    if (client.isOpen) api.setState({ v: 1, kept: client.keep(), large: desk.large });
    desk.drawn();
  });
}
desk.onChange = changed;

window.addEventListener('message', ({ data }) => {
  for (const each of Array.isArray(data) ? data : [data]) {
    const message = readFromHost(each);
    if (!message) {
      console.warn('not understood', each);
      continue;
    }
    client.receive(message);
    desk.received(message);
    changed();
  }
});
