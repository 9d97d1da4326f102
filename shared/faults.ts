import type { z } from 'zod';

/** One thing that is wrong with an input: where (a dotted path, `input` for the whole) and what, in words. */
export interface Fault {
  path: string;
  message: string;
}

/** The path of a fault that belongs to the input as a whole. */
export const WHOLE_INPUT = 'input';

/**
 * A calculation that cannot be done on otherwise well-formed numbers: an estimator that fails on the data,
 * layers higher than their enclosure. The message is written for people; the path names the field to mend.
 */
export class CalculationError extends Error {
  readonly path: string;

  constructor(message: string, path: string = WHOLE_INPUT) {
    super(message);
    this.name = 'CalculationError';
    this.path = path;
  }
}

/**
 * A path as people read it.
 *
 * @example writePath(['layers', 0, 'parts', 1, 'settling']) // 'layers[0].parts[1].settling'
 */
export function writePath(path: readonly PropertyKey[]): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[\w-]+$/.test(String(step))) text += text === '' ? String(step) : `.${String(step)}`;
    else text += `[${JSON.stringify(String(step))}]`;
  }
  return text === '' ? WHOLE_INPUT : text;
}

/** The faults zod found, one each, in the order of the input; an unknown key is named by its own path. */
export function faultsOf(error: z.ZodError): Fault[] {
  return error.issues.flatMap((issue) =>
    issue.code === 'unrecognized_keys'
      ? issue.keys.map((key) => ({ path: writePath([...issue.path, key]), message: 'is not known here' }))
      : [{ path: writePath(issue.path), message: oneLine(issue.message) }],
  );
}

const TYPE_WORDS: Record<string, string> = {
  array: 'a list',
  boolean: 'true or false',
  int: 'a whole number',
  nan: 'a number',
  null: 'null',
  number: 'a number',
  object: 'an object',
  string: 'text',
};

/**
 * Our words for the faults zod finds by itself; pass it as `error` when parsing. Messages that a schema
 * brings along win over these.
 *
 * @example schema.safeParse(input, { error: inWords })
 */
export function inWords(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return invalidType(issue);
    case 'too_small':
      return bound(issue.origin, issue.minimum, issue.inclusive === false ? 'more than' : 'at least');
    case 'too_big':
      return bound(issue.origin, issue.maximum, issue.inclusive === false ? 'less than' : 'at most');
    case 'invalid_value':
      return issue.input === undefined ? 'is missing' : `must be ${oneOf(issue.values)}`;
    default:
      return undefined;
  }
}

function invalidType(issue: z.core.$ZodRawIssue<z.core.$ZodIssueInvalidType>): string {
  const { input, expected } = issue;
  if (input === undefined) return 'is missing';
  if (expected === 'number' && typeof input === 'number') return 'must be a finite number';
  const wanted = TYPE_WORDS[expected] ?? expected;
  if (expected === 'int' && typeof input === 'number') return `must be ${wanted}`;
  const given = input === null ? 'null' : Array.isArray(input) ? 'a list' : TYPE_WORDS[typeof input];
  return `must be ${wanted}${given === undefined ? '' : `, not ${given}`}`;
}

function bound(origin: string, limit: number | bigint, comparison: string): string {
  if (origin === 'array') return `must have ${comparison} ${limit} ${plural(limit, 'entry', 'entries')}`;
  if (origin === 'string')
    return `must have ${comparison} ${limit} ${plural(limit, 'character', 'characters')}`;
  return `must be ${comparison} ${limit}`;
}

function oneOf(values: readonly unknown[]): string {
  const words = values.map((value) => (typeof value === 'string' ? value : JSON.stringify(value)));
  return words.length === 1 ? String(words[0]) : `one of ${words.join(', ')}`;
}

function oneLine(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

function plural(count: number | bigint, one: string, more: string): string {
  return Number(count) === 1 ? one : more;
}
