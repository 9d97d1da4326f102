import { describe, expect, it } from 'vitest';
import type { DiaryRow } from '../../shared/records/entries.ts';
import { readImport } from '../../shared/records/read-import.ts';
import { faultsByLine, noticesOf, sample, today } from './reading.ts';

// A breeder's two files as people keep them. Every number here was counted in the files with grep and awk.
const cultures = { name: 'cultures.csv', bytes: sample('cultures.csv') };
const diary = { name: 'diary.csv', bytes: sample('diary.csv') };
const both = readImport([cultures, diary], { today });

const ofKind = (kind: string) => both.diary.filter((row) => row.entry.kind === kind);
const sum = (rows: readonly DiaryRow[], value: (entry: never) => number) =>
  rows.reduce((total, row) => total + value(row.entry as never), 0);

describe('a breeder’s two files, brought in whole', () => {
  it('are read without a word from anybody: encoding, delimiter, columns, words, order of the dates', () => {
    const [first, second] = both.files;
    expect(first).toMatchObject({
      kind: 'cultures',
      encoding: 'utf-8',
      marked: false,
      replaced: 0,
      questions: [],
    });
    expect(first!.mapping).toMatchObject({
      delimiter: ',',
      dateOrder: 'dmy',
      columns: {
        code: 'Code',
        species: 'Species',
        morph: 'Morph',
        lineName: 'Line',
        enclosure: 'Box',
        place: 'Where',
        foundedOn: 'Started',
        origin: 'From',
        animals: 'Started with',
        note: 'Notes',
      },
    });
    expect(second!.mapping).toMatchObject({
      dateOrder: 'dmy',
      columns: { date: 'Date', code: 'Culture', what: 'What', number: 'Number', note: 'Note', by: 'By' },
    });
    expect(second).toMatchObject({ kind: 'diary', questions: [], columnsLeftOut: [] });
    expect(Object.fromEntries(second!.words.map((use) => [use.word, [use.rows, use.means]]))).toEqual({
      check: [3118, 'check'],
      feed: [1724, 'feed'],
      water: [612, 'water'],
      seen: [534, 'visible count'],
      split: [56, 'split'],
      sold: [44, 'harvest'],
      'full count': [26, 'full count'],
      mites: [19, 'mites'],
      'die-off': [12, 'die-off'],
    });
  });

  it('come in but for six rows, each with its reason', () => {
    expect(both.files[0]!.counts).toEqual({
      rows: 71,
      accepted: 71,
      faulty: 0,
      leftOut: 0,
      alreadyThere: 0,
      blank: 0,
    });
    expect(both.files[1]!.counts).toMatchObject({
      rows: 6145,
      accepted: 6139,
      faulty: 6,
      leftOut: 0,
      blank: 0,
    });
    expect(faultsByLine(both)).toEqual({
      6139: ['date-impossible'],
      6140: ['code-unknown'],
      6141: ['number-negative'],
      6142: ['more-than-there'],
      6143: ['date-missing'],
      6144: ['date-in-future'],
    });
    expect(both.faulty.map((row) => row.reasons[0]!.reason)).toEqual([
      '“2026-02-30” is no day of the calendar.',
      'There is no culture “ZZ-999”.',
      '“-4” is below zero.',
      '100000 animals were taken on 2026-03-02; AR-001 cannot have held more than 20000.',
      'There is no date.',
      '2027-05-01 is after today, 2026-11-25.',
    ]);
    expect(both.faulty[3]!.raw).toBe('2026-03-02,AR-001,sold,100000,,owner');
    expect(both.ready).toBe(false);
  });

  it('keep the formula and the script as text, and say so', () => {
    const rows = both.diary.filter((row) => row.line >= 6145);
    expect(rows.map((row) => row.entry)).toEqual([
      {
        kind: 'count',
        count: { method: 'visible', counted: 9 },
        wording: null,
        note: '=HYPERLINK("http://example.org","x")',
      },
      {
        kind: 'count',
        count: { method: 'visible', counted: 9 },
        wording: null,
        note: '<script>alert(1)</script>',
      },
    ]);
    const told = both.notices.filter((notice) => notice.line !== null && notice.line >= 6145);
    expect(told.map((notice) => [notice.line, notice.kind])).toEqual([
      [6145, 'formula-as-text'],
      [6146, 'markup-as-text'],
    ]);
  });

  it('bring every row that is right into the diary, as what it is', () => {
    // 527 and 24 539 seen above the bad rows, and twice 9 in the rows with a formula and a script.
    expect(both.summary.entries).toEqual({
      check: 3118,
      feed: 1724,
      water: 612,
      count: 529 + 26,
      split: 56,
      harvest: 43,
      mites: 19,
      'die-off': 12,
    });
    expect(sum(ofKind('water'), (entry: { waterMl: number }) => entry.waterMl)).toBe(11_680);
    expect(sum(ofKind('harvest'), (entry: { animals: number }) => entry.animals)).toBe(825);
    expect(sum(ofKind('split'), (entry: { animals: number }) => entry.animals)).toBe(1248);
    const counts = (method: string) =>
      ofKind('count').flatMap(({ entry }) =>
        entry.kind === 'count' && entry.count.method === method && 'counted' in entry.count
          ? [entry.count.counted]
          : [],
      );
    const total = (numbers: number[]) => numbers.reduce((all, one) => all + one, 0);
    expect([counts('visible').length, total(counts('visible'))]).toEqual([529, 24_539 + 18]);
    expect([counts('full').length, total(counts('full'))]).toEqual([26, 6745]);
    expect(both.summary).toMatchObject({ firstDay: '2025-01-20', lastDay: '2026-11-20' });
  });

  it('keep the wording of the 64 rough numbers', () => {
    const wordings = ofKind('count').flatMap(({ entry }) =>
      entry.kind === 'count' && entry.wording ? [entry.wording] : [],
    );
    expect(wordings.filter((wording) => /^~\d+$/.test(wording))).toHaveLength(22);
    expect(wordings.filter((wording) => /^\d+\+$/.test(wording))).toHaveLength(21);
    expect(wordings.filter((wording) => /^about \d+$/.test(wording))).toHaveLength(21);
    expect(wordings).toHaveLength(64);
  });

  it('read the notes of checks, feeds, mites and die-offs', () => {
    const surfaces = ofKind('check').map(({ entry }) =>
      entry.kind === 'check' ? entry.surface : 'no check',
    );
    const many = (surface: string | null) => surfaces.filter((one) => one === surface).length;
    expect([many(null), many('moist'), many('dry'), many('wet')]).toEqual([1735, 623, 612, 148]);
    expect(ofKind('check').every(({ entry }) => entry.note === '')).toBe(true);
    const foods = ofKind('feed').map(({ entry }) => (entry.kind === 'feed' ? entry.food : null));
    expect(
      ['fish flake', 'flies', 'leaf litter', 'protein', 'veg'].map(
        (food) => foods.filter((one) => one === food).length,
      ),
    ).toEqual([357, 356, 344, 346, 321]);
    expect(ofKind('mites').filter(({ entry }) => entry.note === 'few mites')).toHaveLength(7);
    const survivals = ofKind('die-off').map(({ entry }) =>
      entry.kind === 'die-off' ? entry.survivalMedian : 0,
    );
    expect(survivals.sort()).toEqual([0.21, 0.26, 0.28, 0.28, 0.3, 0.36, 0.36, 0.48, 0.51, 0.52, 0.54, 0.55]);
    // Line 38: "lost about 48%". 0.62 survivors of 0.52 would be 10 points more: log(0.62/0.52)/1.6449.
    const first = both.diary.find((row) => row.line === 38)!.entry;
    expect(first).toMatchObject({
      kind: 'die-off',
      survivalMedian: 0.52,
      survivalSdLog: 0.1069,
      note: 'lost about 48%',
    });
  });

  it('match the 66 codes written as “po 020” to their cultures', () => {
    expect(both.noticeGroups.find((group) => group.kind === 'code-as-in-records')!.rows).toBe(66);
    const codes = new Set(both.cultures.map((culture) => culture.code));
    expect(both.diary.every((row) => codes.has(row.code))).toBe(true);
    // 285 rows speak of PO-020 in either form.
    expect(both.diary.filter((row) => row.code === 'PO-020')).toHaveLength(285);
  });

  it('match all 56 splits with the founding of the child, once', () => {
    expect(both.summary.splits).toEqual({ fromBoth: 56, fromDiary: 0, fromFounding: 0, known: 0 });
    const splits = ofKind('split');
    expect(new Set(splits.map(({ entry }) => (entry.kind === 'split' ? entry.childCode : ''))).size).toBe(56);
    for (const { code, on, entry } of splits) {
      const child = both.cultures.find(
        (culture) => entry.kind === 'split' && culture.code === entry.childCode,
      )!;
      expect(child).toMatchObject({
        origin: 'split',
        foundedOn: on,
        parents: [{ code, animals: child.foundingAnimals }],
      });
      expect(entry.note).toBe('');
    }
    expect(noticesOf(both)).not.toContain('split-date-differs');
    expect(noticesOf(both)).not.toContain('split-number-differs');
  });

  it('found the cultures with parents first, and keep a line of two species apart', () => {
    const place = new Map(both.cultures.map((culture, at) => [culture.code, at]));
    for (const culture of both.cultures) {
      for (const parent of culture.parents)
        expect(place.get(parent.code)).toBeLessThan(place.get(culture.code)!);
    }
    const origins = (origin: string) => both.cultures.filter((culture) => culture.origin === origin).length;
    expect([origins('wild'), origins('bought'), origins('split'), origins('unknown')]).toEqual([7, 8, 56, 0]);
    expect(both.cultures.reduce((all, culture) => all + culture.foundingAnimals, 0)).toBe(1551);
    expect(both.cultures.find((culture) => culture.code === 'BL-056')).toMatchObject({
      species: 'Blaptica dubia',
      morph: 'dubia roach',
      foundedOn: '2025-05-04',
      place: ['Rack 1', '4'],
      enclosure: '12 qt tub',
    });
    expect(both.summary.species).toHaveLength(7);
    expect(both.summary.lines).toHaveLength(15);
    expect(both.summary.places).toHaveLength(19);
    expect(both.noticeGroups.find((group) => group.kind === 'line-of-two-species')!.rows).toBe(2);
    expect(both.summary.people).toEqual([
      { name: 'helper', rows: 2009 },
      { name: 'owner', rows: 4130 },
    ]);
  });

  it('come in whole once each faulty kind is left out knowingly, and not before', () => {
    const kinds = both.faultyKinds.map((group) => group.kind);
    const leaving = (leaveOut: typeof kinds) =>
      readImport([cultures, { ...diary, mapping: { version: 1, kind: 'diary', leaveOut } }], { today });
    const all = leaving(kinds);
    expect(all).toMatchObject({ ready: true, faulty: [] });
    expect(all.leftOut.map((row) => row.line)).toEqual([6139, 6140, 6141, 6142, 6143, 6144]);
    expect(leaving(kinds.slice(1))).toMatchObject({ ready: false });
  });

  it('come in one after the other to the same end', () => {
    const alone = readImport([cultures], { today });
    expect(alone.summary.splits).toEqual({ fromBoth: 0, fromDiary: 0, fromFounding: 56, known: 0 });
    const known = alone.cultures.map((culture) => ({
      ...culture,
      speciesNames: [culture.species],
      largest: null,
    }));
    const after = readImport([diary], { today, known });
    expect(after.files[0]!.counts).toMatchObject({ accepted: 6139 - 56, faulty: 6, alreadyThere: 56 });
    expect(after.diary.filter((row) => row.entry.kind === 'split')).toEqual([]);
    const again = readImport([cultures, diary], { today, known });
    expect(again.cultures).toEqual([]);
    expect(again.files[0]!.counts).toMatchObject({ accepted: 0, alreadyThere: 71 });
    expect(noticesOf(again)).not.toContain('differs-from-records');
  });

  it('know every row again by its prints', () => {
    const again = readImport([cultures, diary], { today });
    expect(again.diary.map((row) => row.prints)).toEqual(both.diary.map((row) => row.prints));
    for (const print of ['content', 'source'] as const) {
      expect(new Set(both.diary.map((row) => row.prints[print])).size).toBe(6139);
    }
  });
});
