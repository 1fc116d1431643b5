import { render } from 'preact';
import { type FromPage, type Place, PROTO, readFromHost } from '../protocol';
import { App } from './app';
import { drawn, toClipboard } from './drawing';
import { pictureWidth } from './figure';

declare function acquireVsCodeApi(): { postMessage(message: unknown): void; getState(): unknown; setState(state: unknown): void };

const api = acquireVsCodeApi();
const post = (message: FromPage): void => api.postMessage(message);

let shown: Parameters<typeof App>[0] | undefined;

function draw(): void {
  if (shown) render(<App {...shown} />, document.body);
}

/** The workbench gives it back when the window is loaded anew, to the page and to the host. */
const keep = (place: Place): void => api.setState(place);

window.addEventListener('message', ({ data }) => {
  const message = readFromHost(data);
  if (!message) {
    console.warn('not understood', data);
    return;
  }
  if (message.kind === 'show') {
    keep(message.place);
    shown = { ...message, here: message.here, post };
    draw();
  } else if (message.kind === 'here') {
    if (shown) shown = { ...shown, here: message.row };
    draw();
  } else if (message.to === 'clipboard') void toClipboard(message).then((done) => post({ kind: 'copied', done }));
  else void drawn(message).then((png) => post({ kind: 'drawn', id: message.id, ...(png === undefined ? {} : { png }) }));
});

post({ kind: 'ready', proto: PROTO, width: pictureWidth() });

let width = pictureWidth();
new ResizeObserver(() => {
  if (pictureWidth() === width) return;
  width = pictureWidth();
  post({ kind: 'width', width });
}).observe(document.documentElement);
