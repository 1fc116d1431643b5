/** The colours and the font of a figure. Inks are for data alone; all else is the theme's own. */
export interface Theme {
  readonly surface: string;
  readonly text: string;
  readonly muted: string;
  readonly grid: string;
  /** The channels: parted by readers of every colour vision (vermilion, green and blue of Okabe and Ito, Color Universal Design, 2008). */
  readonly red: string;
  readonly green: string;
  readonly blue: string;
  /** Runs that are overlaid. */
  readonly a: string;
  readonly b: string;
  readonly c: string;
  readonly d: string;
  readonly font: string;
}

const FONT = "system-ui,-apple-system,'Segoe UI',Roboto,'Helvetica Neue',Arial,sans-serif";

export const LIGHT: Theme = {
  surface: '#ffffff',
  text: '#1f2328',
  muted: '#5b6570',
  grid: '#e3e6e9',
  red: '#d55e00',
  green: '#009e73',
  blue: '#0072b2',
  a: '#8f3f97',
  b: '#8a6100',
  c: '#2b7a90',
  d: '#6b6b6b',
  font: FONT,
};

export const DARK: Theme = {
  surface: '#1f1f1f',
  text: '#e4e7ea',
  muted: '#a2abb4',
  grid: '#383c41',
  red: '#ff8a4a',
  green: '#3cc79b',
  blue: '#5db0ee',
  a: '#d79be0',
  b: '#e5b84b',
  c: '#6cc6dc',
  d: '#b0b0b0',
  font: FONT,
};

export const CONTRAST_LIGHT: Theme = {
  ...LIGHT,
  text: '#000000',
  muted: '#292929',
  grid: '#c8c8c8',
  red: '#a34700',
  green: '#006b4e',
  blue: '#004f9e',
};
export const CONTRAST_DARK: Theme = { ...DARK, surface: '#000000', text: '#ffffff', muted: '#e0e0e0', grid: '#4a4a4a' };

export const THEMES = { light: LIGHT, dark: DARK, 'contrast-light': CONTRAST_LIGHT, 'contrast-dark': CONTRAST_DARK } as const;

export type Token = keyof Theme;

/** What a page sets to colour the figures in it; a picture by itself shows the light theme. */
export const variableOf = (token: Token): string => `--nitbook-${token}`;

export const BY_PAGE: Theme = Object.fromEntries(
  Object.entries(LIGHT).map(([token, colour]) => [token, `var(${variableOf(token as Token)},${colour})`]),
) as unknown as Theme;
