import { figureText, judgementText, limitLine, measuredText, NONE } from '../../report/format';
import { kindTitle, propertyTitle } from '../../report/said';
import { figureTitle } from '../../report/summary';
import { writeReference } from '../../session/reference';
import type { Say } from '../../text/message';
import type { Checked } from '../check';
import { lookOf, runHeading, sessionTitles, titleOf } from '../fences/blocks';
import { factsHtml, scrolled } from '../fences/htmlForm';
import { methodOf } from '../fences/method';
import { type Cell, figureWords, type Manner } from '../fences/parts';
import { html } from '../html';
import { claimText } from '../plugin';
import { runsReferred } from '../referred';
import type { Told } from '../shown';

/** Where the figures of a published review come from: every claim leads here, and back. */
export class Evidence {
  private readonly entries = new Map<string, Entry>();
  private quotes = 0;

  constructor(private readonly manner: Manner) {}

  /** What stands around a claim on the page. */
  around(told: Told, text: string): readonly [before: string, after: string] {
    const { checked } = told;
    const quote = `nitbook-q${++this.quotes}`;
    const entry = this.entryOf(checked, { id: quote, text });
    const open = entry ? `<a href="#${entry.id}" id="${quote}" aria-describedby="${entry.id}">` : '';
    const close = entry ? `</a><span class="nitbook-source" aria-hidden="true">${html(claimText(told, this.manner.say))}</span>` : '';
    const stale = staleText(checked, this.manner);
    const sign =
      stale !== ''
        ? ` <span class="nitbook-sign">▲ ${html(stale)}</span>`
        : checked.status === 'undecided'
          ? `<span class="nitbook-sign" title="${html(told.says.join(' '))}">≈</span>`
          : '';
    const short = text.length <= SHORT ? ' nitbook-short' : '';
    return [`<span class="nitbook-claim nitbook-${checked.status}${short}">${open}`, `${close}${sign}</span>`];
  }

  private entryOf(checked: Checked, quote: Quote): Entry | undefined {
    const { reference, path, figure, property } = checked;
    if (!reference || path === undefined || !(figure || property)) return undefined;
    const name = `${path}\n${writeReference({ ...reference, path: '' })}`;
    const entry = this.entries.get(name) ?? { id: `nitbook-f${this.entries.size + 1}`, checked, quotes: [] };
    this.entries.set(name, entry);
    entry.quotes.push(quote);
    return entry;
  }

  /**
   * The end of a page: how it was measured, session by session, and the figures that were quoted.
   * @param shown all that is checked of the review, for sessions that only figures or tables are of
   * @param told the sessions whose method the review tells by itself
   */
  html(shown: readonly Checked[], told: ReadonlySet<string>): string {
    const { say } = this.manner;
    const leds = [
      ...new Map(
        shown.flatMap(({ path, analysis }) => (path !== undefined && analysis ? [[path, { path, analysis }] as const] : [])),
      ).values(),
    ];
    const titles = sessionTitles(leds);
    const methods = leds
      .filter(({ path }) => !told.has(path))
      .map(({ path, analysis }) => factsHtml(methodOf(titles.get(path)!, analysis.session, runsReferred(shown, analysis), this.manner)));
    const tables = leds.flatMap(({ path }) => {
      const own = [...this.entries.values()].filter(({ checked }) => checked.path === path);
      return own.length === 0 ? [] : [this.table(titles.get(path)!, own)];
    });
    return [
      methods.length === 0
        ? ''
        : `<section aria-labelledby="nitbook-how"><h2 id="nitbook-how">${html(say('How it was measured'))}</h2>${methods.join('')}</section>`,
      tables.length === 0
        ? ''
        : `<section class="nitbook-evidence" aria-labelledby="nitbook-whence"><h2 id="nitbook-whence">${html(say('Where the figures come from'))}</h2>${tables.join('')}</section>`,
    ].join('\n');
  }

  private table(title: string, entries: readonly Entry[]): string {
    const { say } = this.manner;
    const groups = new Map<string, { readonly about: string; readonly entries: Entry[] }>();
    for (const entry of entries) {
      const [heading, about] = groupOf(entry.checked, say);
      const group = groups.get(heading) ?? { about, entries: [] };
      groups.set(heading, group);
      group.entries.push(entry);
    }
    const heads = [say('Measure'), say('Value'), say('Verdict'), say('Quoted as')]
      .map((head) => `<th scope="col">${html(head)}</th>`)
      .join('');
    const bodies = [...groups].map(([heading, { about, entries: own }]) => {
      const described = about === '' ? '' : ` <span class="nitbook-about">${html(about)}</span>`;
      return `<tbody><tr class="nitbook-group"><th scope="rowgroup" colspan="4">${html(heading)}${described}</th></tr>${own.map((entry) => this.row(entry)).join('')}</tbody>`;
    });
    const table = `<table class="nitbook-table"><caption>${html(title)}</caption><thead><tr>${heads}</tr></thead>${bodies.join('')}</table>`;
    return scrolled(title, table);
  }

  private row({ id, checked, quotes }: Entry): string {
    const { name, limits, value, verdict, look } = shownFigure(checked, this.manner);
    const about = limits === '' ? '' : ` <span class="nitbook-about">${html(limits)}</span>`;
    const back = quotes.map(
      (quote) => `<a class="nitbook-back" href="#${quote.id}">${html(quote.text)}<span aria-hidden="true">\u00a0↩</span></a>`,
    );
    const cell = look === undefined ? '<td>' : `<td class="nitbook-${look}">`;
    return `<tr id="${id}"><th scope="row">${html(name)}${about}</th><td>${html(value)}</td>${cell}${html(verdict)}</td><td>${back.join(', ')}</td></tr>`;
  }
}

/** Claims no longer than this stay in one line: a number with its unit, and a word before it. */
const SHORT = 18;

interface Quote {
  readonly id: string;
  readonly text: string;
}

interface Entry {
  readonly id: string;
  readonly checked: Checked;
  readonly quotes: Quote[];
}

/** What is said of a claim that is published although it does not hold; empty for any other. */
export function staleText(checked: Checked, manner: Manner): string {
  const { say } = manner;
  if (checked.status === 'broken') return say('its source is not there');
  if (checked.status !== 'wrong') return '';
  const { figure, property } = checked;
  return say('does not hold: it is {now}', { now: figure ? figureWords(figureText(figure, say), manner) : (property?.text ?? '') });
}

/** The run of a figure with what it is against, or the block of a property. */
function groupOf({ figure, property, analysis, reference }: Checked, say: Say): readonly [heading: string, about: string] {
  const result = figure && analysis?.results.find(({ run }) => run.id === reference!.ids[0]);
  if (result) {
    const against = result.againstText(say);
    return [runHeading(result, analysis!, say), against === '' ? '' : say('against {against}', { against })];
  }
  const { block } = property!;
  const title = titleOf(block);
  return [title === block.keyword ? kindTitle(title, say) : `${kindTitle(block.keyword!, say)}: ${title}`, ''];
}

interface ShownFigure extends Pick<Cell, 'look'> {
  readonly name: string;
  readonly limits: string;
  readonly value: string;
  readonly verdict: string;
}

function shownFigure({ figure, property }: Checked, manner: Manner): ShownFigure {
  const { say } = manner;
  if (!figure) return { name: propertyTitle(property!.name, say), limits: '', value: property!.text, verdict: '' };
  return {
    name: figureTitle(figure, say),
    limits: figureWords(limitLine(figure.spec, figure.judgement, say), manner),
    value: figure.value.ok ? figureWords(measuredText(figure, say), manner) : NONE,
    verdict: judgementText(figure.judgement, say),
    ...lookOf(figure),
  };
}
