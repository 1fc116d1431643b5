import type { Say } from '../../src/text/message';

export const SCHEMA = 'syntaxes/nitbook.schema.json';

const DESCRIPTION = /("(?:description|patternErrorMessage|label)": )("(?:[^"\\]|\\.)*")/g;

/** What a schema says to its readers. */
export const descriptionsOf = (schema: string): readonly string[] =>
  [...schema.matchAll(DESCRIPTION)].map(([, , text]) => JSON.parse(text!) as string);

/** The same schema in other words. */
export const schemaIn = (schema: string, say: Say): string =>
  schema.replace(DESCRIPTION, (_, key: string, text: string) => key + JSON.stringify(say(JSON.parse(text))));
