import type { Words } from './words';

const list = (words: string): readonly string[] => words.split(/\s+/);

export const EN: Words = {
  negations:
    list(`not no never neither nor none without cannot cant isnt wasnt doesnt didnt wont hardly scarcely nowhere nothing nobody fail
    fails failed failing miss misses missed missing lack lacks lacked lacking unable unattained unattainable unreached unreachable
    impossible false untrue refuses`),
  conditions: list('if unless when whenever while except provided once until'),
  joins: ['and', 'to'],
  comparisons: {
    equal: ['up to', 'as much as', 'as many as', 'as high as', 'as low as', 'as bright as', 'as little as', 'as few as', 'equal to'],
    about: [
      'about',
      'around',
      'roughly',
      'approximately',
      'approx',
      'approx .',
      'circa',
      'ca',
      'ca .',
      'some',
      'close to',
      'near',
      'more or less',
    ],
    nearly: ['just under', 'just below', 'nearly', 'almost', 'all but', 'just shy of', 'just short of', 'approaching', 'approaches'],
    'just-over': ['just over', 'just above', 'a little over', 'slightly over', 'slightly above'],
    'at-most': ['at most', 'at or below', 'at or under', 'less than or equal to', 'a maximum of', 'a ceiling of'],
    'at-least': ['at least', 'at or above', 'at or over', 'greater than or equal to', 'upwards of', 'a minimum of'],
    under: [
      ...list('under below beneath undercuts undercutting'),
      ...list('less fewer lower smaller darker dimmer').map((each) => `${each} than`),
      'south of',
    ],
    over: [
      ...list('over above beyond past exceeds exceed exceeding exceeded surpasses surpass surpassing surpassed tops beats'),
      ...list('more greater higher larger bigger brighter').map((each) => `${each} than`),
      'north of',
      'in excess of',
    ],
  },
  articles: list('a an the its his her their our your my this that these those'),
  fillers: list(`of mere only just some full whopping measured promised claimed advertised quoted stated specified rated nominal official
    target targeted expected required recommended magic symbolic value level mark figure threshold limit line average mean maximum max
    minimum min peak contrast luminance brightness temperature ratio error difference what firmware version release`),
  denials: [
    ...['far from', 'short of', 'shy of', 'other than', 'instead of', 'rather than', 'anything but', 'nothing like', 'away from'],
    ...['wide of', 'well off', 'long way off', 'outside', 'unlike', 'in place of', 'out of'],
  ],
  multiples: list(`twice thrice double doubled doubles triple tripled triples treble quadruple quadrupled half halves halved third thirds
    quarter quarters fifth tenth fraction times multiple root`),
  times: list('times x fold'),
  as: ['as'],
  than: ['than'],
  by: ['by'],
  steps: {
    any: list('difference deviation swing gap error offset departs departing differs excursion'),
    below: list('loss losses drop fall decrease decline dip deficit shortfall reduction lost loses sheds dropped'),
    above: list('gain rise increase improvement excess surplus jump boost gained gains adds added'),
  },
  behind: { any: list('off adrift apart out away'), below: list('short shy low'), above: ['high'] },
  comparatives: {
    any: list('less more fewer better worse greater larger smaller bigger faster slower longer shorter wider narrower'),
    below: ['lower'],
    above: ['higher'],
    dark: list('darker dimmer'),
    bright: ['brighter'],
    cool: list('cooler bluer'),
    warm: list('warmer redder'),
    pale: ['paler'],
    green: ['greener'],
    pink: ['pinker'],
  },
  places: {
    any: list('off from'),
    below: list('below under beneath'),
    above: list('above over beyond past'),
  },
  targets: list(`target targets reference curve standard nominal ideal neutral spec specification aim goal setpoint locus eotf intended
    intent wanted asked requested expected correct it should`),
  centres: list('centre center middle'),
  links: list('of from the'),
  sides: {
    dark: ['darker', 'dimmer', 'too dark', 'too dim', 'crushed'],
    bright: ['brighter', 'too bright', 'lifted', 'raised'],
    cool: ['cool', 'cooler', 'too cool', 'bluish', 'too blue', 'cold', 'too cold'],
    warm: ['warm', 'warmer', 'too warm', 'reddish', 'too red', 'yellowish', 'too yellow'],
    pale: ['under saturated', 'undersaturated', 'desaturated', 'less saturated', 'too pale', 'washed out', 'paler'],
    vivid: ['over saturated', 'oversaturated', 'more saturated', 'too saturated', 'too vivid'],
    green: [
      ...['greenish', 'greener', 'too green', 'green tint', 'green cast', 'tinted green', 'towards green', 'toward green', 'to green'],
      ...['above the planckian locus', 'above the locus'],
    ],
    pink: [
      ...['pinkish', 'pinker', 'too pink', 'pink tint', 'pink cast', 'tinted pink', 'towards pink', 'toward pink', 'purplish', 'rosy'],
      ...['magenta', 'magentaish', 'below the planckian locus', 'below the locus'],
    ],
    below: ['too low', 'too little', 'too small', 'falls short', 'fall short', 'fell short', 'falling short', 'lags', 'lagging', 'lower'],
    above: ['too high', 'too much', 'too large', 'overshoots', 'overshooting', 'higher'],
  },
  idle: [
    ...['warm up', 'warmed up', 'cool down', 'above all', 'more or less', 'rather more', 'under way'],
    ...['warm', 'cool', 'cold'].flatMap((each) => ['preset', 'mode', 'setting', 'white'].map((what) => `${each} ${what}`)),
  ],
  opposites: [
    ['dark', 'bright'],
    ['dim', 'bright'],
    ['low', 'high'],
    ['cool', 'warm'],
    ['darker', 'brighter'],
    ['dimmer', 'brighter'],
    ['cooler', 'warmer'],
    ['lower', 'higher'],
    ['below', 'above'],
    ['under', 'over'],
    ['greenish', 'pinkish'],
    ['green', 'pink'],
    ['undersaturated', 'oversaturated'],
  ],
  written: { about: 'about', 'at-least': 'at least', 'at-most': 'at most' },
};
