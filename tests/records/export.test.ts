import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CultureRow, DiaryRow, Entry } from '../../shared/records/entries.ts';
import { csvLines, culturesCsv, diaryCsv } from '../../shared/records/export.ts';
import { readImport } from '../../shared/records/read-import.ts';
import { notBroughtInCsv } from '../../shared/records/report.ts';
import { bytesOf, knownCulture, sample, today } from './reading.ts';

type Culture = Omit<CultureRow, 'line' | 'prints'>;
type Row = Pick<DiaryRow, 'on' | 'code' | 'by' | 'entry'>;

const joined = (lines: Iterable<string>) => bytesOf([...lines].join(''));

function readBack(cultures: readonly Culture[], diary: readonly Row[]) {
  const files = [
    {
      name: 'cultures.csv',
      bytes: joined(culturesCsv(cultures)),
      mapping: { version: 1 as const, kind: 'cultures' as const },
    },
    {
      name: 'diary.csv',
      bytes: joined(diaryCsv(diary)),
      mapping: { version: 1 as const, kind: 'diary' as const },
    },
  ];
  return readImport(files, { today });
}

const told = ({ on, code, by, entry }: Row): Row => ({ on, code, by, entry });

// Text as a person may have typed it in a form: with everything a spreadsheet or a CSV reader could trip over.
const tricky = fc.string({
  unit: fc.constantFrom(
    'a',
    'Z',
    '9',
    ' ',
    ',',
    ';',
    '"',
    "'",
    '=',
    '+',
    '-',
    '@',
    ':',
    '\\',
    '/',
    '<',
    '%',
    'ä',
    '\n',
  ),
  maxLength: 24,
});
const text = tricky.map((one) => one.trim());
const said = text.filter((one) => one !== '');
const yesNo = fc.option(fc.boolean());
const animals = fc.integer({ min: 1, max: 40 });
const someOf = <T>(...values: T[]) => fc.option(fc.constantFrom(...values));
const moved = { animals, adults: fc.option(fc.nat(20)), juveniles: fc.option(fc.nat(20)), note: text };

const entries: fc.Arbitrary<Entry> = fc.oneof(
  fc.record({
    kind: fc.constant('check' as const),
    surface: someOf('wet' as const, 'moist' as const, 'dry' as const),
    springtails: someOf('none' as const, 'few' as const, 'some' as const, 'many' as const),
    springtailsWhere: someOf('low' as const, 'ranging' as const),
    feedersLeft: someOf('none' as const, 'few' as const, 'plenty' as const),
    youngSeen: yesNo,
    eggsSeen: yesNo,
    mouldSeen: yesNo,
    mitesSeen: yesNo,
    deaths: fc.option(fc.nat(50)),
    note: text,
  }),
  fc.record({
    kind: fc.constant('count' as const),
    count: fc.oneof(
      fc.record({
        method: fc.constant('full' as const),
        counted: fc.nat(500),
        relativeSd: fc.constantFrom(0.05, 0.2),
      }),
      fc.record({ method: fc.constant('visible' as const), counted: fc.nat(500) }),
      fc.record({
        method: fc.constant('visible' as const),
        counted: fc.nat(500),
        detection: fc.record({ alpha: fc.constantFrom(6, 0.5), beta: fc.constantFrom(14, 2.25) }),
      }),
      fc.record({
        method: fc.constant('sample' as const),
        counted: fc.nat(90),
        fraction: fc.constantFrom(0.1, 0.25, 1),
      }),
      fc.record({
        method: fc.constant('removal' as const),
        catches: fc.array(fc.nat(90), { minLength: 2, maxLength: 5 }),
        estimator: fc.constantFrom('carle-strub' as const, 'zippin' as const),
      }),
      fc.record({
        method: fc.constant('mark-recapture' as const),
        marked: fc.integer({ min: 9, max: 90 }),
        caught: fc.integer({ min: 9, max: 90 }),
        recaptured: fc.nat(9),
        estimator: fc.constantFrom('chapman' as const, 'petersen' as const),
      }),
    ),
    wording: fc.option(said),
    note: text,
  }),
  fc.record({
    kind: fc.constant('water' as const),
    waterMl: fc.constantFrom(10, 12.5, 0.75, 2000),
    note: text,
  }),
  fc.record({
    kind: fc.constant('feed' as const),
    food: fc.option(said),
    fromCode: someOf('A-1', 'B-2'),
    note: text,
  }),
  fc.record({ kind: fc.constant('harvest' as const), toCode: someOf('A-1', 'B-2'), ...moved }),
  fc.record({ kind: fc.constant('addition' as const), fromCode: someOf('A-1', 'B-2'), ...moved }),
  fc.record({
    kind: fc.constant('die-off' as const),
    survivalMedian: fc.constantFrom(0.001, 0.52, 1),
    survivalSdLog: fc.constantFrom(0, 0.1069, 0.5),
    note: text,
  }),
  fc.record({
    kind: fc.constant('move' as const),
    place: fc.array(
      said.filter((one) => !/\s{2}|\n/.test(one)),
      { minLength: 1 },
    ),
    note: text,
  }),
  fc.record({
    kind: fc.constantFrom('fruit-in' as const, 'fruit-out' as const, 'mites' as const, 'mould' as const),
    note: text,
  }),
  fc.record({ kind: fc.constantFrom('quarantine' as const, 'release' as const), note: text }),
  fc.record({ kind: fc.constant('note' as const), note: said }),
);

const wild = (code: string): Culture => ({
  code,
  species: 'Porcellio laevis',
  commonName: null,
  morph: '',
  lineName: null,
  enclosure: null,
  place: [],
  foundedOn: '2025-01-01',
  origin: 'wild',
  parents: [],
  foundingAnimals: 5000,
  foundingSdLog: 0.02,
  status: 'active',
  endedOn: null,
  note: '',
});

describe('an export', () => {
  it('of any diary reads back as it was, without a mapping', () => {
    const row = fc.record({
      on: fc.integer({ min: 1, max: 28 }).map((day) => `2026-02-${String(day).padStart(2, '0')}`),
      code: fc.constantFrom('A-1', 'B-2'),
      by: fc.option(said),
      entry: entries,
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 12 }), (rows) => {
        const sorted = rows.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
        const back = readBack([wild('A-1'), wild('B-2')], sorted);
        expect(back.faulty).toEqual([]);
        expect(back.diary.map(told)).toEqual(sorted);
      }),
      { numRuns: 150 },
    );
  });

  it('of any cultures reads back as they were, without a mapping', () => {
    const line = said.filter((one) => !one.includes('\n'));
    const culture = fc.record({
      species: line,
      commonName: fc.option(line),
      morph: text,
      lineName: fc.option(line),
      enclosure: fc.option(line),
      place: fc.array(
        line.filter((one) => !/\s{2}/.test(one)),
        { maxLength: 3 },
      ),
      origin: fc.constantFrom('wild' as const, 'bought' as const, 'unknown' as const),
      foundingAnimals: animals,
      foundingSdLog: fc.constantFrom(0.02, 0.15, 0.4),
      note: text,
    });
    fc.assert(
      fc.property(fc.array(culture, { minLength: 1, maxLength: 6 }), fc.boolean(), (list, retired) => {
        const cultures = list.map((one, at): Culture => {
          const status = retired ? ('retired' as const) : ('quarantine' as const);
          return {
            ...one,
            code: `A-${at + 1}`,
            foundedOn: '2025-03-01',
            parents: [],
            status,
            endedOn: retired ? '2026-01-01' : null,
          };
        });
        const back = readBack(cultures, [
          { on: '2026-01-01', code: 'A-1', by: null, entry: { kind: 'mites', note: '' } },
        ]);
        expect(back.faulty).toEqual([]);
        expect(back.cultures.map(({ line: _, prints: __, ...one }) => one)).toEqual(cultures);
      }),
      { numRuns: 100 },
    );
  });

  it('of a breeder’s whole records reads back as they were, and adds nothing twice', () => {
    const files = (['cultures.csv', 'diary.csv'] as const).map((name) => ({ name, bytes: sample(name) }));
    const first = readImport(files, { today });
    const back = readBack(first.cultures, first.diary);
    expect(back.faulty).toEqual([]);
    expect(back.diary.map(told)).toEqual(first.diary.map(told));
    expect(back.diary.map((row) => row.prints.content)).toEqual(first.diary.map((row) => row.prints.content));
    const plain = (rows: readonly CultureRow[]) => rows.map(({ line: _, prints: __, ...row }) => row);
    expect(plain(back.cultures)).toEqual(plain(first.cultures));
  });

  it('of the rows not brought in can be mended and brought in with the same mapping', () => {
    const known = [knownCulture('A-1')];
    const mapping = { version: 1 as const, kind: 'diary' as const };
    const lines = ['2026-01-01,A-1,seen,-4,=x,', '2026-01-02,A-1,seen,4,,', '2026-01-03,A-1,seen'];
    const bytes = bytesOf(['Date,Culture,What,Number,Note,By', ...lines].join('\n'));
    const reading = readImport([{ name: 'd', bytes, mapping }], { today, known });
    const list = [...notBroughtInCsv(reading, 'diary')].join('');
    expect(list.split('\r\n')).toEqual([
      'Date,Culture,What,Number,Note,By,Line in the file,Why it is not brought in',
      "2026-01-01,A-1,seen,-4,'=x,,2,“-4” is below zero.",
      '2026-01-03,A-1,seen,,,,4,"The row has 3 cells, the header 6. The row: 2026-01-03,A-1,seen"',
      '',
    ]);
    const mended = bytesOf(list.replace(',-4,', ',4,').replace('seen,,,', 'seen,3,,'));
    const back = readImport([{ name: 'd', bytes: mended, mapping: reading.files[0]!.mapping }], {
      today,
      known,
    });
    expect(back.diary.map((row) => row.entry)).toMatchObject([
      { count: { counted: 4 }, note: '=x' },
      { count: { counted: 3 }, note: '' },
    ]);
    expect(back.ready).toBe(true);
  });

  it('holds nothing that a spreadsheet would run, and leaves numbers alone', () => {
    const lines = [
      ...csvLines(
        ['a', '=b'],
        [
          ['=1+1', -4],
          ['@x', 0.5],
          ['-', null],
        ],
      ),
    ];
    expect(lines.join('')).toBe("a,'=b\r\n'=1+1,-4\r\n'@x,0.5\r\n'-,\r\n");
  });
});
