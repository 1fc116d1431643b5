import type { Code, Severity } from '../text/codes';
import type { Limits } from '../text/limitText';
import type { Plan } from './plans';

/** What a folder's `nitbook.jsonc` says. */
export interface Config {
  /** By measure id; a session's own `limits` come before these, and these before the defaults. */
  readonly limits: ReadonlyMap<string, Limits>;
  readonly severities: ReadonlyMap<Code, Severity | 'off'>;
  /** Plans of the folder by name; those of the same name come before the ones that Nitbook brings along. */
  readonly plans: ReadonlyMap<string, Plan>;
  /** In which language reviews are written, how they write numbers and the words of their claims: a tag of BCP 47. */
  readonly language: string;
}

export const NO_CONFIG: Config = { limits: new Map(), severities: new Map(), plans: new Map(), language: 'en' };

/** The keys of the file, in the order of its documentation. */
export const CONFIG_KEYS = ['limits', 'findings', 'plans', 'language'] as const;

export const SEVERITIES = ['off', 'info', 'warning', 'error'] as const satisfies readonly (Severity | 'off')[];
