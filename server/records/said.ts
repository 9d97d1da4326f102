import { z } from 'zod';
import { delimiters } from '../../shared/records/delimiter.ts';
import { encodings } from '../../shared/records/encoding.ts';
import { fileKinds } from '../../shared/records/entries.ts';
import { culturesRoles, diaryRoles, type Role } from '../../shared/records/header-words.ts';
import type { Mapping, SettledMapping } from '../../shared/records/mapping.ts';
import { meanings } from '../../shared/records/meanings.ts';
import type { FileReading } from '../../shared/records/result.ts';
import { typedNumber } from '../../shared/settings/typed-number.ts';
import { optionalLine } from '../../shared/text.ts';
import { roleWords } from '../../views/records/words.ts';
import type { FormBody, FormState } from '../plumbing/call.ts';
import { readForm, typed } from '../plumbing/forms.ts';

/** What a form says about a file, or what is wrong with the form. */
export type Said = { ok: true; mapping: Mapping } | { ok: false; form: FormState };

const choose = { error: 'Choose one of the list.' };

const formatForm = z.object({
  kind: z.enum(fileKinds, choose),
  encoding: z.enum(encodings, choose),
  delimiter: z.enum(delimiters, choose),
  headerLine: typedNumber({ whole: true, min: 1, max: 200_000 }).optional(),
});

/** A tab is white space, which counts as left out on a form. */
const delimiterOf = (body: FormBody) => (body.delimiter === '\t' ? { ...body, delimiter: 'tab' } : body);

/** How the file itself is read. What its columns and words mean is found out anew. */
function sayFormat(body: FormBody, { mapping }: FileReading): Said {
  const schema = formatForm.extend({ delimiter: z.enum([...delimiters, 'tab'], choose) });
  const read = readForm(schema, delimiterOf(body));
  if (!read.ok) return read;
  const { kind, encoding, headerLine = null } = read.data;
  const delimiter = read.data.delimiter === 'tab' ? '\t' : read.data.delimiter;
  const same = kind === mapping.kind && headerLine === mapping.headerLine && delimiter === mapping.delimiter;
  const format = { version: 1 as const, encoding, delimiter, headerLine };
  return { ok: true, mapping: same ? { ...mapping, encoding } : ({ ...format, kind } as Mapping) };
}

const roles: Record<SettledMapping['kind'], readonly Role[]> = { cultures: culturesRoles, diary: diaryRoles };

/** What each column holds. */
function sayColumns(body: FormBody, { mapping, labels }: FileReading): Said {
  const form = typed(body);
  const columns = new Map<Role, string | null>(roles[mapping.kind].map((role) => [role, null]));
  const keepInNote: string[] = [];
  const entryColumns: string[] = [];
  for (const [at, label] of labels.entries()) {
    const use = form.values[`column.${at}`] ?? '';
    const role = roles[mapping.kind].find((one) => one === use);
    if (use === 'keep') keepInNote.push(label);
    else if (use === 'entry' && mapping.kind === 'diary') entryColumns.push(label);
    else if (role && columns.get(role) !== null)
      form.errors[`column.${at}`] =
        `“${columns.get(role)}” is taken for ${roleWords[role].toLowerCase()} already.`;
    else if (role) columns.set(role, label);
  }
  if (Object.keys(form.errors).length > 0) return { ok: false, form };
  const told = { columns: Object.fromEntries(columns), keepInNote };
  const entries = mapping.kind === 'diary' ? { entryColumns } : {};
  return { ok: true, mapping: { ...mapping, ...told, ...entries } as Mapping };
}

const datesForm = z.object({
  dateOrder: z.enum(['dmy', 'mdy'], choose).optional(),
  serialDates: z.enum(['1900', '1904'], choose).optional(),
});

function sayDates(body: FormBody, { mapping }: FileReading): Said {
  const read = readForm(datesForm, body);
  if (!read.ok) return read;
  const { dateOrder = mapping.dateOrder, serialDates = mapping.serialDates } = read.data;
  return { ok: true, mapping: { ...mapping, dateOrder, serialDates } };
}

const number = (most: number, least = 1) => typedNumber({ whole: true, min: least, max: most }).optional();
const share = typedNumber({ above: 0, max: 100 }).optional();
const rulesForm = z.object({
  dateOrder: z.enum(['dmy', 'mdy'], choose).optional(),
  decimalMark: z.enum(['.', ','], choose),
  largestColony: number(10_000_000),
  foundingAnimals: number(100_000),
  lostPercent: share,
  waterMl: typedNumber({ above: 0, max: 10_000 }).optional(),
  sameRows: z.enum(['keep all', 'keep one'], choose).optional(),
  codeForAll: optionalLine(200),
  meaningForAll: z.enum(meanings, choose).optional(),
});

/** What holds for all rows of a file that do not tell it themselves. */
function sayRules(body: FormBody, { mapping }: FileReading): Said {
  const read = readForm(rulesForm, body);
  if (!read.ok) return read;
  const {
    decimalMark,
    largestColony = mapping.largestColony,
    dateOrder = mapping.dateOrder,
    ...rest
  } = read.data;
  const common = { decimalMark, largestColony, dateOrder };
  if (mapping.kind === 'cultures')
    return { ok: true, mapping: { ...mapping, ...common, foundingAnimals: rest.foundingAnimals ?? null } };
  const { lostPercent = null, waterMl = null, sameRows = 'keep all', meaningForAll = null } = rest;
  const codeForAll = rest.codeForAll === '' ? null : rest.codeForAll;
  return {
    ok: true,
    mapping: { ...mapping, ...common, lostPercent, waterMl, sameRows, codeForAll, meaningForAll },
  };
}

/** The fields of a form that begin alike, by the rest of their name. */
function fieldsAfter(body: FormBody, prefix: string): [rest: string, value: string][] {
  return Object.entries(body).flatMap(([name, value]) =>
    name.startsWith(prefix) && typeof value === 'string' ? [[name.slice(prefix.length), value.trim()]] : [],
  );
}

/** What the words of a file mean; a word that the form does not name keeps its meaning. */
function sayWords(body: FormBody, { mapping }: FileReading): Said {
  const merged = <M extends string>(
    before: readonly { word: string; means: M | null }[],
    prefix: string,
    values: readonly M[],
  ) => {
    const words = new Map(before.map(({ word, means }) => [word, means]));
    for (const [word, value] of fieldsAfter(body, prefix))
      if (word !== '' && word.length <= 200) words.set(word, values.find((one) => one === value) ?? null);
    return [...words].map(([word, means]) => ({ word, means })).slice(0, 2000);
  };
  if (mapping.kind === 'diary')
    return { ok: true, mapping: { ...mapping, words: merged(mapping.words, 'word.', meanings) } };
  const origins = merged(mapping.origins, 'origin.', ['wild', 'bought', 'unknown']);
  const statuses = merged(mapping.statuses, 'status.', ['active', 'quarantine', 'retired']);
  return { ok: true, mapping: { ...mapping, origins, statuses } };
}

/** Codes that are written wrongly throughout, and the codes they mean. */
function sayCodes(body: FormBody, { mapping }: FileReading): Said {
  const codes = new Map(mapping.codes.map(({ written, means }) => [written, means]));
  for (const [written, means] of fieldsAfter(body, 'code.')) {
    if (written === '' || written.length > 200 || means.length > 200) continue;
    if (means === '') codes.delete(written);
    else codes.set(written, means);
  }
  return {
    ok: true,
    mapping: { ...mapping, codes: [...codes].map(([written, means]) => ({ written, means })).slice(0, 2000) },
  };
}

export const parts = {
  format: sayFormat,
  columns: sayColumns,
  dates: sayDates,
  rules: sayRules,
  words: sayWords,
  codes: sayCodes,
} as const;
export type Part = keyof typeof parts;
