import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CONFIG_KEYS, SEVERITIES } from '../../src/config/config';
import { PLAN_BLOCKS, PLAN_KINDS } from '../../src/config/plans';
import { CODES } from '../../src/text/codes';
import { readLimits } from '../../src/text/limitText';
import { limitText } from './limitTexts';

const schema = JSON.parse(readFileSync(new URL('../../syntaxes/nitbook.schema.json', import.meta.url), 'utf8'));
const [[measure, limit]] = Object.entries(schema.properties.limits.patternProperties) as [[string, { pattern: string }]];

test('the schema knows the keys that the reader knows, and no others', () => {
  expect(Object.keys(schema.properties)).toEqual(CONFIG_KEYS);
  expect(schema.additionalProperties).toBe(false);
  expect(schema.properties.limits.additionalProperties).toBe(false);
});

test('the schema lists the codes of findings and their severities', () => {
  expect(schema.properties.findings.propertyNames.enum).toEqual(Object.keys(CODES));
  expect(schema.properties.findings.additionalProperties.enum).toEqual(SEVERITIES);
});

test('the schema allows the comments and trailing commas that the reader allows', () => {
  expect([schema.allowComments, schema.allowTrailingCommas]).toEqual([true, true]);
});

test('the schema refuses no limit that the reader takes', () => {
  const pattern = new RegExp(limit.pattern, 'u');
  fc.assert(
    fc.property(limitText, (text) => {
      if (readLimits(text)) expect(text).toMatch(pattern);
    }),
    { seed: 20260314, numRuns: 2000 },
  );
});

test.each(['', '3', 'under 3', 'aim', 'aim 1 limit 3', 'aim 1,limit 3', 'aim 1; limit 3', 'aim 1, limit 3, aim 2', 'Aim 1'])(
  'the schema refuses, like the reader, the limit "%s"',
  (text) => {
    expect(readLimits(text)).toBeUndefined();
    expect(text).not.toMatch(new RegExp(limit.pattern, 'u'));
  },
);

test('the schema takes the ids of measures as references write them', () => {
  const pattern = new RegExp(measure, 'u');
  for (const id of ['greyscale.de.max', 'gamut.coverage.p3.uv', 'lag.mean', 'hdr-x.y-2']) expect(id).toMatch(pattern);
  for (const id of ['', 'Greyscale.de', 'greyscale..de', 'greyscale.', '__proto__', 'grey de']) expect(id).not.toMatch(pattern);
});

test('the schema knows the kinds and fields of plans that the reader knows, and no others', () => {
  const plan = schema.properties.plans.additionalProperties.properties;
  expect(Object.keys(plan)).toEqual(['about', 'blocks', 'runs']);
  expect(plan.blocks.items.properties.kind.enum).toEqual(PLAN_BLOCKS);
  expect(plan.runs.items.properties.kind.enum).toEqual(Object.keys(PLAN_KINDS));
  const fields = Object.values(PLAN_KINDS).flatMap((kind) => Object.keys(kind.fields));
  expect(new Set(Object.keys(plan.runs.items.properties))).toEqual(
    new Set(['kind', 'id', 'title', 'like', 'columns', 'properties', ...fields]),
  );
});
