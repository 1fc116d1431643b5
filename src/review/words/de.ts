import type { Words } from './words';

const list = (words: string): readonly string[] => words.split(/\s+/);

/** Forms of an adjective: "kühl", "kühle", "kühlem" … */
const forms = (stems: string): readonly string[] =>
  list(stems).flatMap((stem) => ['', 'e', 'em', 'en', 'er', 'es'].map((ending) => stem + ending));

const comparatives = {
  below: list('niedriger geringer tiefer niedrigere geringere'),
  above: list('höher höhere'),
  dark: list('dunkler lichtschwächer dunklere dunkleren finsterer'),
  bright: list('heller hellere helleren'),
  cool: list('kühler kälter kühlere kältere blauer bläulicher'),
  warm: list('wärmer wärmere röter rötlicher gelber'),
  pale: list('blasser blassere'),
  vivid: list('satter kräftiger'),
  green: list('grüner grünlicher'),
  pink: list('rosiger'),
} as const;

export const DE: Words = {
  negations:
    list(`nicht nichts nie niemals nirgends nirgendwo kein keinerlei keine keinen keinem keiner keines kaum ohne weder keinesfalls keineswegs
    mitnichten niemand verfehlt verfehlen verfehlte verpasst verpassen verpasste scheitert scheitern scheiterte mangelt unerreicht
    unerreichte unerreichbar unmöglich falsch fehlanzeige vergeblich außerstande`),
  conditions: list('wenn falls sofern solange während sobald außer vorausgesetzt ehe bevor'),
  joins: ['und', 'bis'],
  comparisons: {
    equal: [
      'bis zu',
      'ein maximum von',
      'bis',
      'maximal',
      'minimal',
      'genau',
      'exakt',
      'so hell wie',
      'so hoch wie',
      'so viel wie',
      'gleich',
    ],
    about: [
      ...['etwa', 'rund', 'ungefähr', 'circa', 'zirka', 'ca', 'ca .', 'um die', 'rund um', 'in etwa', 'nahe', 'nahe an'],
      ...['annähernd', 'an die', 'mehr oder weniger'],
    ],
    nearly: [
      ...['fast', 'beinahe', 'nahezu', 'knapp', 'knappe', 'knappen', 'schier', 'knapp unter', 'knapp unterhalb', 'kurz vor', 'dicht unter'],
      ...['bis knapp'],
    ],
    'just-over': ['knapp über', 'knapp oberhalb', 'gut', 'gute', 'guten', 'kurz über', 'dicht über'],
    'at-most': ['höchstens', 'allenfalls', 'bestenfalls', 'höchstenfalls', 'kleiner oder gleich', 'kleiner gleich'],
    'at-least': ['mindestens', 'wenigstens', 'zumindest', 'größer oder gleich', 'größer gleich', 'ein minimum von'],
    under: [
      ...list('unter unterhalb unterm unterschreitet unterschreiten unterbietet unterbieten'),
      ...list('weniger kleiner niedriger geringer tiefer dunkler schwächer').map((each) => `${each} als`),
    ],
    over: [
      ...list('über oberhalb überm übersteigt übersteigen überschreitet überschreiten übertrifft übertreffen überbietet jenseits'),
      ...list('mehr größer höher heller stärker').map((each) => `${each} als`),
    ],
  },
  bounds: {
    'at-least': ['oder mehr', 'und mehr', 'oder höher', 'und höher', 'oder darüber', 'und darüber', 'oder besser', 'aufwärts'],
    'at-most': ['oder weniger', 'und weniger', 'oder niedriger', 'und darunter', 'oder darunter'],
  },
  close: list('gut gute guten knappe knappen'),
  articles: list(`der die das den dem des ein eine einen einem einer eines ihr ihre ihren ihrem ihrer sein seine seinen seinem seiner unser
    unsere dieser diese diesen diesem dieses jene jenen jener`),
  fillers: list(`von vom nur bloß lediglich gerade mal einmal ganze ganzen volle vollen stolze stolzen magere mageren magische magischen
    versprochene versprochenen beworbene beworbenen angegebene angegebenen geforderte geforderten gemessene gemessenen erwartete erwarteten
    marke wert grenze grenzwert schwelle limit linie mittel durchschnitt mittelwert höchstwert spitzenwert maximum minimum spitze spitzenhelligkeit
    leuchtdichte helligkeit kontrast farbtemperatur farbabstand abstand fehler ziel zielwert noch schon sogar selbst immerhin`),
  denials: [
    ...['weit von', 'fern von', 'fern der', 'entfernt von', 'abseits von', 'weg von', 'außerhalb', 'innerhalb von', 'hinter', 'entgegen'],
    ...[
      'statt',
      'anstatt',
      'anstelle',
      'anders als',
      'alles andere als',
      'eins zu',
      'ab',
      'vor',
      'nachfolger von',
      'kratzt an',
      'kratzen an',
      'bräuchte',
      'bräuchten',
      'braucht',
      'verspricht',
    ],
    ...[
      'wäre',
      'wären',
      'soll',
      'sollen',
      'sollte',
      'sollten',
      'müsste',
      'müssten',
      'wollte',
      'hätte',
      'hätten',
      'verlangt',
      'versprochen waren',
      'sollten es',
    ],
  ],
  refusals: [
    'würden',
    'würde',
    'wären',
    'wäre',
    'sollten',
    'sollte',
    'könnten',
    'könnte',
    'oder neuer',
    'oder älter',
    'und neuer',
    'zu viel verlangt',
    'sind zu viel verlangt',
    'gehen verloren',
    'geht verloren',
    'pro watt',
    'je watt',
    'zum quadrat',
    'am ziel vorbei',
    'bleiben ein traum',
    'bleibt ein traum',
  ],
  copulas: list('ist war beträgt betrug sind'),
  multiples: [
    ...['nimmt um', 'nahm um'],
    ...list(`doppelt doppelte doppelten doppelter doppeltes verdoppelt zweifach zweifache zweifachen dreifach dreifache dreifachen vierfach
      vierfache vierfachen fünffach zehnfach vielfache vielfaches anderthalb anderthalbmal eineinhalb eineinhalbmal zweimal dreimal viermal
      fünfmal zehnmal halb halbe halben halber halbiert hälfte drittel viertel fünftel zehntel hundertstel bruchteil`),
  ],
  times: list('mal fach fache fachen faches'),
  as: ['wie'],
  than: ['als'],
  by: ['um'],
  steps: {
    any: list('differenz unterschied abweichung abstand änderung schwankung sprung'),
    below: list(
      `verlust abfall rückgang minus fehlbetrag einbruch abnahme defizit verliert verlieren verlor fehlen fehlt fehlten eingebüßt büßt büßte rückstand`,
    ),
    above: list('anstieg zuwachs gewinn plus überschuss steigerung zunahme gewinnt gewinnen gewann zugelegt vorsprung'),
  },
  verbs: {
    any: list('schwankt schwanken streut streuen'),
    below: list('fällt fiel sinkt sank lässt dunkelt spart'),
    above: list('steigt stieg wächst wuchs klettert'),
  },
  behind: {
    any: list('daneben entfernt weg'),
    below: list('zurück zuwenig darunter hinter'),
    above: list('zuviel darüber'),
    dark: ['dunkel'],
  },
  comparatives: {
    ...comparatives,
    any: list(
      'weniger mehr besser schlechter größer kleiner schneller langsamer länger kürzer breiter schmaler schwächer stärker billiger teurer günstiger',
    ),
  },
  places: {
    any: list('neben abseits von vom'),
    below: list('unter unterhalb unterm hinter'),
    above: list('über oberhalb überm'),
  },
  apart: ['unterhalb', 'oberhalb', 'über dem'],
  targets: list(`ziel ziels zielwert zielkurve zielwerts soll sollwert sollkurve referenz norm kurve standard vorgabe ideal neutral
    planckkurve vorgesehen gewünscht gefordert verlangt richtig`),
  centres: ['mitte', 'bildmitte'],
  links: list('von vom der die das dem'),
  sides: {
    dark: ['zu dunkel', 'zu finster', 'abgesoffen', 'abgesoffene', 'abgedunkelt', 'verschluckt', ...comparatives.dark],
    bright: ['zu hell', 'aufgehellt', 'angehoben', ...comparatives.bright],
    cool: [...forms('kühl kalt bläulich blaustichig'), 'zu blau', ...comparatives.cool],
    warm: [...forms('warm rötlich gelblich rotstichig gelbstichig'), 'zu rot', 'zu gelb', ...comparatives.warm],
    pale: [...forms('untersättigt'), ...forms('entsättigt'), 'zu blass', 'ausgewaschen', 'weniger gesättigt', ...comparatives.pale],
    vivid: [...forms('übersättigt'), 'zu satt', 'zu gesättigt', 'zu kräftig', 'stärker gesättigt', 'zu bunt', ...comparatives.vivid],
    green: [...forms('grünlich grünstichig'), 'zu grün', 'grünstich', 'richtung grün', 'ins grüne', ...comparatives.green],
    pink: [
      ...forms('rosastichig magentastichig pinkstichig purpurn rosa'),
      ...['zu rosa', 'zu magenta', 'magentastich', 'magenta', 'rosastich', 'pinkstich', ...comparatives.pink],
    ],
    below: ['zu niedrig', 'zu gering', 'zu wenig', 'zu wenige', 'zu klein', 'darunter', 'zu tief', 'zurück', 'unter soll'],
    above: ['zu hoch', 'zu viel', 'zu viele', 'zu groß', 'zuviel', 'darüber', 'über soll'],
  },
  idle: [
    ...['warm', 'kühl', 'kalt'].flatMap((each) =>
      ['voreinstellung', 'einstellung', 'modus', 'stufe', 'preset', 'farbton'].map((what) => `${what} ${each}`),
    ),
    ...['warmen', 'kühlen', 'kalten'].flatMap((each) =>
      ['preset', 'modus', 'voreinstellung', 'einstellung'].map((what) => `${each} ${what}`),
    ),
    'mehr oder weniger',
    'über alles',
    'über schwarz',
    'unter last',
    'vor allem',
    'unter anderem',
    'unter umständen',
  ],
  opposites: [
    ['dunkel', 'hell'],
    ['dunkler', 'heller'],
    ['niedrig', 'hoch'],
    ['niedriger', 'höher'],
    ['unter', 'über'],
    ['unterhalb', 'oberhalb'],
    ['kühl', 'warm'],
    ['kühle', 'warme'],
    ['kühlen', 'warmen'],
    ['kühler', 'wärmer'],
    ['untersättigt', 'übersättigt'],
    ['wenig', 'viel'],
    ['grünstichig', 'magentastichig'],
    ['grün', 'magenta'],
  ],
  written: { about: 'etwa', 'at-least': 'mindestens', 'at-most': 'höchstens' },
};
