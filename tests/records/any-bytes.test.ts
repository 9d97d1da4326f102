import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RecordsError } from '../../shared/records/limits.ts';
import { mapping, parseMapping } from '../../shared/records/mapping.ts';
import { readImport } from '../../shared/records/read-import.ts';
import type { ImportReading } from '../../shared/records/result.ts';
import { bytesOf, knownCulture, today } from './reading.ts';

const known = [knownCulture('A-1'), knownCulture('A-2', { parents: [{ code: 'A-1', animals: 12 }] })];

/** Reads it, or is refused in so many words; anything else fails the test. */
function readOrRefuse(files: Parameters<typeof readImport>[0]): ImportReading | null {
  try {
    return readImport(files, { today, known });
  } catch (error) {
    if (error instanceof RecordsError && error.message.length > 10) return null;
    throw error;
  }
}

function expectEveryRowAccounted(reading: ImportReading): void {
  for (const { counts, kind } of reading.files) {
    const unread = reading.files.some((file) =>
      file.questions.some((question) => question.kind === 'columns-needed'),
    );
    if (!unread)
      expect(counts.accepted + counts.faulty + counts.leftOut + counts.alreadyThere).toBe(counts.rows);
    for (const row of reading.faulty) expect(row.reasons.length).toBeGreaterThan(0);
    if (kind === 'cultures')
      expect(reading.cultures).toHaveLength(unread ? reading.cultures.length : counts.accepted);
  }
  const listed = [...reading.faulty, ...reading.leftOut, ...reading.alreadyThere].map(
    (row) => `${row.file} ${row.line}`,
  );
  const accepted = new Set(
    reading.diary.filter((row) => row.file === 'diary').map((row) => `diary ${row.line}`),
  );
  expect(listed.filter((row) => accepted.has(row))).toEqual([]);
  expect(new Set(listed).size).toBe(listed.length);
}

const cell = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      '2026-01-01',
      '13/02/2026',
      '02/03/2026',
      '7 Mar 25',
      '30 Feb 26',
      '2031-01-01',
      '',
    ),
  },
  { weight: 3, arbitrary: fc.constantFrom('A-1', 'a 2', 'B-1', 'B-2', 'b 1', 'wild', 'bought', 'B-1 + B-2') },
  {
    weight: 4,
    arbitrary: fc.constantFrom(
      'check',
      'seen',
      'sold',
      'split',
      'died',
      'water',
      'fed',
      'moved',
      'full count',
      'zzz',
      'count',
    ),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom('12', '~40', '40+', '-4', '1e9', '100000', '0', 'lots', '1,2', '40-50'),
  },
  {
    weight: 3,
    arbitrary: fc.constantFrom(
      'to B-1',
      'to b 2',
      'lost 30%',
      'dry',
      'ok',
      '=1+1',
      '<b>',
      'food: x',
      'a; b: c\\',
    ),
  },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 12 }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom('"', '"a', 'a"b', '""', '\uFFFD', '\0', '__proto__', 'constructor'),
  },
);
const table = (headers: string[]) =>
  fc
    .tuple(
      fc.shuffledSubarray(headers, { minLength: 2 }),
      fc.array(fc.array(cell, { minLength: 1, maxLength: 8 }), { maxLength: 12 }),
      fc.constantFrom(',', ';', '\t', '|'),
      fc.constantFrom('\n', '\r\n', '\r'),
    )
    .map(([header, rows, delimiter, end]) =>
      bytesOf([header, ...rows].map((cells) => cells.join(delimiter)).join(end)),
    );
const diaries = table([
  'Date',
  'Culture',
  'What',
  'Number',
  'Note',
  'By',
  'Details',
  'Seen',
  'Water (ml)',
  'Weather',
]);
const lists = table([
  'Code',
  'Species',
  'Started',
  'From',
  'Started with',
  'Status',
  'Ended',
  'Where',
  'Line',
  'Notes',
]);

describe('any bytes at all', () => {
  it('are read or refused in words, never anything else', () => {
    const starts = fc.constantFrom(
      [],
      [0xef, 0xbb, 0xbf],
      [0xff, 0xfe],
      [0xfe, 0xff],
      [...bytesOf('Date,Culture,What\n')],
    );
    fc.assert(
      fc.property(starts, fc.uint8Array({ maxLength: 400 }), (start, bytes) => {
        const reading = readOrRefuse([{ name: 'x', bytes: new Uint8Array([...start, ...bytes]) }]);
        if (reading) expectEveryRowAccounted(reading);
      }),
      { numRuns: 400 },
    );
  });

  it('leave every row of any table in exactly one place, with a reason for each that is not brought in', () => {
    const kinds = fc.constantFrom(undefined, 'cultures' as const, 'diary' as const);
    fc.assert(
      fc.property(fc.oneof(diaries, lists), kinds, (bytes, kind) => {
        const told = kind && { version: 1 as const, kind };
        const reading = readOrRefuse([{ name: 'x', bytes, mapping: told }]);
        if (reading) expectEveryRowAccounted(reading);
      }),
      { numRuns: 400 },
    );
  });

  it('leave it so where a list and a diary come together, and read to the same end twice', () => {
    fc.assert(
      fc.property(lists, diaries, (list, diary) => {
        const files = [
          { name: 'c', bytes: list, mapping: { version: 1 as const, kind: 'cultures' as const } },
          {
            name: 'd',
            bytes: diary,
            mapping: { version: 1 as const, kind: 'diary' as const, sameRows: 'keep one' as const },
          },
        ];
        const reading = readOrRefuse(files);
        if (!reading) return;
        expectEveryRowAccounted(reading);
        const settled = reading.files.map(({ name, mapping: saved }, at) => ({
          ...files[at]!,
          name,
          mapping: saved,
        }));
        expect(readOrRefuse(settled)!.diary).toEqual(reading.diary);
        const codes = new Set([...reading.cultures, ...known].map((culture) => culture.code));
        for (const row of reading.diary) expect(codes.has(row.code)).toBe(true);
        for (const culture of reading.cultures) {
          expect(culture.parents.every((parent) => codes.has(parent.code) && parent.animals > 0)).toBe(true);
        }
        // Which prints a row has is what keeps it from being added twice.
        expect(new Set(reading.diary.map((row) => row.prints.content)).size).toBe(reading.diary.length);
      }),
      { numRuns: 300 },
    );
  });

  it('make any JSON a mapping or a refusal in words', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (json) => {
        expect(() => parseMapping(json)).toThrow(RecordsError);
      }),
      { numRuns: 100 },
    );
    expect(mapping.safeParse({ version: 1, kind: 'diary' }).success).toBe(true);
  });
});
