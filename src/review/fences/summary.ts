import type { Analysis } from '../../project/analysis';
import { judgementText, limitLine, measuredText } from '../../report/format';
import { capital, stillToTake } from '../../report/said';
import { figureTitle, type RunSummary, summarise } from '../../report/summary';
import { lookOf, runHeading, runsOf, sessionTitles, titleOf, written } from './blocks';
import { figureWords, type Group, type LedGroup, type Making, type Manner, made } from './parts';

/** The main figures of bench days, run by run. */
export function summary(leds: LedGroup, manner: Manner): Making {
  const { say } = manner;
  const titles = sessionTitles(leds);
  const groups: Group[] = [];
  for (const [at, led] of leds.entries()) {
    const found = runsOf(led, at, 'summary');
    if (!found.ok) return found;
    const wanted = new Set(found.runs.map(({ run }) => run.block));
    const of = titles.size > 1 ? titles.get(led.path) : undefined;
    const runs = summarise(led.analysis, say).runs.filter(({ result }) => wanted.has(result.run.block));
    groups.push(...runs.map((run) => groupOf(run, led.analysis, manner, of)));
  }
  const days = [...new Map(leds.map((led) => [led.path, led])).values()].map(({ path, analysis: { session } }) =>
    [titles.get(path)!, session.date?.text, written(session, session.first('display'), 'firmware')].filter((part) => part !== undefined),
  );
  return made({
    is: 'table',
    caption: days
      .map(([title, date, firmware]) =>
        firmware === undefined
          ? [title, date].filter(Boolean).join(', ')
          : say('{title}, {date}, firmware {firmware}', { title: title!, date: date!, firmware }),
      )
      .join('; '),
    head: [say('Measure'), say('Value'), say('Verdict'), say('Limits')],
    groups: groups.filter(({ rows, about }) => rows.length > 0 || about !== undefined),
    notes: [],
  });
}

function groupOf(run: RunSummary, analysis: Analysis, manner: Manner, of: string | undefined): Group {
  const { say } = manner;
  const { mode, against, why, headline } = run;
  const about = [
    mode && titleOf(run.result.run.mode!),
    against && say('against {against}', { against }),
    stillToTake(run, undefined, say),
    why && say('not computed: {why}', { why }),
  ].filter((part) => part);
  return {
    title: [of, runHeading(run.result, analysis, say)].filter((part) => part !== undefined).join(', '),
    ...(about.length > 0 && { about: `${capital(about.join('; '))}.` }),
    rows: headline
      .filter(({ value }) => value.ok)
      .map((figure) => ({
        name: figureTitle(figure, say),
        cells: [
          { text: figureWords(measuredText(figure, say), manner) },
          { text: judgementText(figure.judgement, say), ...lookOf(figure) },
          { text: figureWords(limitLine(figure.spec, figure.judgement, say), manner) },
        ],
      })),
  };
}
