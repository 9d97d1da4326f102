import { describe, expect, it } from 'vitest';
import { parseMapping } from '../../shared/records/mapping.ts';
import { readImport } from '../../shared/records/read-import.ts';
import { bytesOf, faultsByLine, knownCulture, noticesOf, readBoth, today } from './reading.ts';

describe('the rows of a list of cultures', () => {
  it('become cultures with everything they tell', () => {
    const reading = readBoth(
      [
        'A-1,Porcellio laevis,Dairy cow,milkback,L1,6 qt tub,Rack 1 / 4,2025-03-01,wild caught,~14,active,,found under bark,tall',
        'A 2,Porcellio laevis,,,,,,2025-06-01,a1,12,dead,2026-01-05,,',
      ],
      [],
      {
        header:
          'Code,Species,Common name,Morph,Line,Box,Where,Started,From,Started with,Status,Ended,Notes,Shape',
      },
    );
    const [first, second] = reading.cultures;
    expect(first).toMatchObject({
      line: 2,
      code: 'A-1',
      species: 'Porcellio laevis',
      commonName: 'Dairy cow',
      morph: 'milkback',
      lineName: 'L1',
      enclosure: '6 qt tub',
      place: ['Rack 1', '4'],
      foundedOn: '2025-03-01',
      origin: 'wild',
      parents: [],
      foundingAnimals: 14,
      foundingSdLog: 0.15,
      status: 'active',
      endedOn: null,
      note: 'found under bark; Shape: tall; Founding animals: ~14; From: wild caught',
    });
    expect(second).toMatchObject({
      code: 'A-2',
      origin: 'split',
      parents: [{ code: 'A-1', animals: 12 }],
      foundingSdLog: 0.02,
      status: 'retired',
      endedOn: '2026-01-05',
      lineName: null,
      place: [],
    });
    expect(noticesOf(reading)).toContain('code-tidied');
  });

  it('may have the morph in quotes behind the name, and headings in German', () => {
    const reading = readBoth(
      [
        'A-1;Porcellio laevis "Dairy Cow";Dose 3 L;01.03.2026;14',
        'A-2;Cubaris sp. "Rubber Ducky";Dose 3 L;02.03.2026;12',
        'A-3;Porcellio laevis;Dose 3 L;13.3.26;20',
      ],
      [],
      { header: 'Nr;Tierart;Behälter;Angesetzt;Anzahl' },
    );
    expect(
      reading.cultures.map(({ species, morph, foundingAnimals }) => [species, morph, foundingAnimals]),
    ).toEqual([
      ['Porcellio laevis', 'Dairy Cow', 14],
      ['Cubaris sp. "Rubber Ducky"', '', 12],
      ['Porcellio laevis', '', 20],
    ]);
  });

  it('tell every fault they have', () => {
    const header = 'Code,Species,Started,From,Started with,Status';
    const reading = readBoth(
      [
        ',,2027-01-01,nowhere known,0,',
        'A-1,X y,2025-02-30,wild,-3,hm',
        'A-2,X y,2025-03-01,wild,12,',
        'a 2,X y,2025-03-01,wild,12,',
        'A-3,X y,2025-03-01,wild,,',
        '***,X y,2025-03-01,wild,100000,',
      ],
      [],
      { header },
    );
    expect(faultsByLine(reading)).toEqual({
      2: ['code-missing', 'species-missing', 'date-in-future', 'number-zero', 'parent-unknown'],
      3: ['date-impossible', 'number-negative', 'status-not-understood'],
      5: ['duplicate-code'],
      6: ['number-missing'],
      7: ['code-not-usable', 'number-too-large'],
    });
    expect(reading.faulty.find((row) => row.line === 5)!.reasons[0]!.reason).toBe(
      'Line 4 has the code A-2 already.',
    );
  });

  it('take what is set for all, and what a person says words mean', () => {
    const reading = readBoth(['A-1,X y,2025-03-01,Uncle Bob,,resting'], [], {
      header: 'Code,Species,Started,From,Started with,Status',
      mapping: {
        kind: 'cultures',
        foundingAnimals: 12,
        origins: [{ word: 'uncle bob', means: 'bought' }],
        statuses: [{ word: 'resting', means: 'quarantine' }],
      },
    });
    expect(reading.cultures).toMatchObject([
      {
        origin: 'bought',
        foundingAnimals: 12,
        foundingSdLog: 0.15,
        status: 'quarantine',
        note: 'From: Uncle Bob',
      },
    ]);
    expect(noticesOf(reading)).toEqual(['animals-assumed']);
  });
});

describe('the lineage of a list of cultures', () => {
  it('refuses a culture older than its parent, of another species, or its own ancestor, and passes faults on', () => {
    const reading = readBoth([
      'A-1,X y,2025-03-01,wild,12',
      'A-2,X y,2025-02-01,A-1,12',
      'A-3,X y,2025-05-01,A-2,12',
      'A-4,Z w,2025-05-01,A-1,12',
      'B-1,X y,2025-05-01,B-2,12',
      'B-2,X y,2025-05-01,B-3,12',
      'B-3,X y,2025-05-01,B-1,12',
      'B-4,X y,2025-06-01,B-3,12',
      'B-5,X y,2025-06-01,B-5,12',
      'C-1,X y,2025-06-01,Q-9,12',
    ]);
    expect(faultsByLine(reading)).toEqual({
      3: ['older-than-parent'],
      4: ['parent-faulty'],
      5: ['parent-other-species'],
      6: ['parent-cycle'],
      7: ['parent-cycle'],
      8: ['parent-cycle'],
      9: ['parent-faulty'],
      10: ['parent-cycle'],
      11: ['parent-unknown'],
    });
    expect(reading.cultures.map((culture) => culture.code)).toEqual(['A-1']);
  });

  it('knows that two names are one species', () => {
    const cultures = ['A-1,Porcellio laevis,2025-03-01,wild,12', 'A-2,My Best,2025-05-01,A-1,12'];
    expect(faultsByLine(readBoth(cultures))).toEqual({ 3: ['parent-other-species'] });
    const synonyms = [['Porcellio laevis', 'my best']];
    expect(faultsByLine(readBoth(cultures, [], { synonyms }))).toEqual({});
    // A name of the trade is known without being told: shared/species/common-names.ts.
    expect(faultsByLine(readBoth([cultures[0]!, 'A-2,Dairy Cows,2025-05-01,A-1,12']))).toEqual({});
  });

  it('shares founders out among several parents, and takes what splits tell', () => {
    const cultures = [
      'A-1,X y,2025-03-01,wild,12',
      'A-2,X y,2025-03-01,wild,12',
      'A-3,X y,2025-05-01,A-1 + a 2,25',
    ];
    const alone = readBoth(cultures);
    expect(alone.cultures[2]!.parents).toEqual([
      { code: 'A-1', animals: 13 },
      { code: 'A-2', animals: 12 },
    ]);
    expect(noticesOf(alone)).toContain('animals-shared-out');
    expect(alone.diary.map((row) => [row.code, row.on, row.entry])).toMatchObject([
      ['A-1', '2025-05-01', { kind: 'split', animals: 13, childCode: 'A-3' }],
      ['A-2', '2025-05-01', { kind: 'split', animals: 12, childCode: 'A-3' }],
    ]);
    const told = readBoth(cultures, ['2025-05-01,A-2,split,10,to A-3,']);
    expect(told.cultures[2]!.parents).toEqual([
      { code: 'A-1', animals: 15 },
      { code: 'A-2', animals: 10 },
    ]);
    expect(told.summary.splits).toEqual({ fromBoth: 1, fromDiary: 0, fromFounding: 1, known: 0 });
  });

  it('gives retired cultures the day of their last entry where none is told', () => {
    const header = 'Code,Species,Started,From,Started with,Status';
    const reading = readBoth(
      [
        'A-1,X y,2025-03-01,wild,12,retired',
        'A-2,X y,2025-03-01,wild,12,crashed',
        'A-3,X y,2025-03-01,wild,12,gone',
      ],
      ['2025-09-01,A-1,check,,ok,', '2025-04-01,A-2,retired,,mites,', '2025-05-01,A-2,note,,tub cleaned,'],
      { header },
    );
    expect(reading.cultures.map((culture) => culture.endedOn)).toEqual([
      '2025-09-01',
      '2025-04-01',
      '2025-03-01',
    ]);
    expect(
      reading.notices.filter((notice) => notice.kind === 'ended-on-assumed').map((notice) => notice.line),
    ).toEqual([2, 4]);
  });
});

describe('a split that is told twice', () => {
  const parent = 'A-1,X y,2025-01-01,wild,20';

  it('takes the animals from the parent once, each side keeping what it tells', () => {
    const reading = readBoth([parent, 'A-2,X y,2025-06-01,A-1,12'], ['2025-06-03,A-1,split,13,to a2,']);
    expect(reading.diary).toMatchObject([
      { on: '2025-06-03', code: 'A-1', entry: { animals: 13, childCode: 'A-2' } },
    ]);
    expect(reading.cultures[1]).toMatchObject({
      foundedOn: '2025-06-01',
      foundingAnimals: 12,
      parents: [{ animals: 13 }],
    });
    expect(reading.notices).toMatchObject([
      { kind: 'split-date-differs', file: 'diary', line: 2 },
      { kind: 'split-number-differs', file: 'cultures', line: 3 },
    ]);
    expect(reading.ready).toBe(true);
  });

  it('fills in what only one of them tells', () => {
    const noNumber = readBoth([parent, 'A-2,X y,2025-06-01,A-1,'], ['2025-06-01,A-1,split,12,to A-2,']);
    expect(noNumber.cultures[1]).toMatchObject({ foundingAnimals: 12 });
    expect(noticesOf(noNumber)).toEqual(['animals-from-split']);
    const noParent = readBoth([parent, 'A-2,X y,2025-06-01,,12'], ['2025-06-01,A-1,split,12,to A-2,']);
    expect(noParent.cultures[1]).toMatchObject({ origin: 'split', parents: [{ code: 'A-1', animals: 12 }] });
    expect(noticesOf(noParent)).toEqual(['parent-from-split']);
    const noRow = readBoth([parent, 'A-2,X y,2025-06-01,A-1,12'], ['2025-06-01,A-1,check,,ok,']);
    expect(noRow.diary).toMatchObject([
      { file: 'diary', entry: { kind: 'check' } },
      { file: 'cultures', line: 3, code: 'A-1', entry: { kind: 'split', animals: 12, childCode: 'A-2' } },
    ]);
  });

  it('is a fault where both contradict, or where a culture is founded twice', () => {
    const cultures = [parent, 'A-2,X y,2025-06-01,A-1,12', 'A-3,X y,2025-01-01,wild,20'];
    const diary = [
      '2025-06-01,A-1,split,12,to A-2,',
      '2025-08-01,A-1,split,12,to A-2,',
      '2025-06-01,A-3,split,12,to A-2,',
      '2025-06-01,A-1,split,12,to A-3,',
      '2025-06-01,A-1,split,12,to A-1,',
    ];
    expect(faultsByLine(readBoth(cultures, diary))).toEqual({
      3: ['split-twice'],
      4: ['split-parent-differs'],
      5: ['split-parent-differs'],
      6: ['child-missing'],
    });
  });

  it('is faulty with its child, and the diary of a faulty culture with the culture', () => {
    const reading = readBoth(
      [parent, 'A-2,X y,2025-13-01,A-1,12'],
      ['2025-06-01,A-1,split,12,to A-2,', '2025-06-02,A-2,check,,ok,', '2025-06-02,A-1,check,,ok,'],
    );
    expect(
      reading.faulty.map((row) => [row.file, row.line, row.reasons.map((reason) => reason.kind)]),
    ).toEqual([
      ['cultures', 3, ['date-impossible']],
      ['diary', 2, ['culture-faulty']],
      ['diary', 3, ['culture-faulty']],
    ]);
    expect(reading.diary).toHaveLength(1);
  });
});

describe('cultures the records hold already', () => {
  it('are compared and left as they are', () => {
    const known = [
      knownCulture('PO-1', { foundedOn: '2025-01-01', foundingAnimals: 20 }),
      knownCulture('PO-2', {
        foundedOn: '2025-06-01',
        foundingAnimals: 12,
        parents: [{ code: 'PO-1', animals: 12 }],
      }),
    ];
    const reading = readBoth(
      [
        'po 001,milkback,2025-01-01,,20',
        'PO-2,Porcellio laevis,2025-06-02,PO-1,14',
        'PO-3,milkback,2025-07-01,PO-2,10',
      ],
      [
        '2025-06-01,PO-1,split,12,to PO-2,',
        '2025-06-01,PO-1,split,9,to PO-9,',
        '2025-07-01,PO-2,split,10,to PO-3,',
      ],
      { known },
    );
    expect(reading.files[0]!.counts).toMatchObject({ rows: 3, accepted: 1, alreadyThere: 2 });
    expect(
      reading.notices
        .filter((notice) => notice.kind === 'differs-from-records')
        .map((notice) => notice.message),
    ).toEqual([
      'PO-2: founded on 2025-06-02 here, 2025-06-01 in the records, which stay.',
      'PO-2: founding animals 14 here, 12 in the records, which stay.',
    ]);
    expect(reading.alreadyThere.map((row) => [row.file, row.line])).toEqual([
      ['cultures', 2],
      ['cultures', 3],
      ['diary', 2],
    ]);
    expect(faultsByLine(reading)).toEqual({ 3: ['child-unknown'] });
    expect(reading.diary).toMatchObject([{ line: 4, code: 'PO-2', entry: { childCode: 'PO-3' } }]);
  });

  it('do not lose their diary or their young to a faulty row that repeats them', () => {
    const reading = readBoth(
      ['PO-1,milkback,2025-13-01,wild,20', 'PO-3,milkback,2025-07-01,PO-1,10'],
      ['2026-01-01,PO-1,check,,ok,'],
      { known: [knownCulture('PO-1')] },
    );
    expect(faultsByLine(reading)).toEqual({ 2: ['date-impossible'] });
    expect([reading.cultures.length, reading.diary.length]).toEqual([1, 2]);
  });

  it('do not take a split from a parent they do not name', () => {
    const reading = readImport(
      [{ name: 'd', bytes: bytesOf('Date,Culture,What,Number,Note\n2025-06-01,A-1,split,12,to A-2\n') }],
      {
        today,
        known: [knownCulture('A-1'), knownCulture('A-2')],
      },
    );
    expect(faultsByLine(reading)).toEqual({ 2: ['split-parent-differs'] });
  });
});

describe('a mapping', () => {
  it('that was settled is a whole mapping, and reads the file to the same end', () => {
    const bytes = bytesOf('Datum;Kode;Was;Zahl\n13/01/2026;A-1;seen;4\n02/03/2026;A-1;zzz;4\n');
    const known = [knownCulture('A-1')];
    const first = readImport([{ name: 'd', bytes }], { today, known });
    const saved = JSON.parse(JSON.stringify(first.files[0]!.mapping));
    const again = readImport([{ name: 'd', bytes, mapping: parseMapping(saved) }], { today, known });
    expect(again.files[0]!.mapping).toEqual(first.files[0]!.mapping);
    expect(again.diary).toEqual(first.diary);
    expect(again.faulty).toEqual(first.faulty);
  });

  it('that cannot be used is refused with every fault by its path', () => {
    expect(() => parseMapping({ version: 2, kind: 'diary', columns: { date: 4 }, colour: 'red' })).toThrow(
      /version: must be 1; columns\.date: .*; colour: is not known here/,
    );
    expect(() => parseMapping('x')).toThrow(/This mapping cannot be used/);
    expect(() => parseMapping({ version: 1, kind: 'plants' })).toThrow(/kind: must be cultures or diary/);
  });

  it('may say of two files that they are of one kind, and is told', () => {
    const bytes = bytesOf('Date,Culture,What\n2026-01-01,A-1,check\n');
    expect(() =>
      readImport(
        [
          { name: 'a', bytes },
          { name: 'b', bytes },
        ],
        { today },
      ),
    ).toThrow(/Both files are taken for a diary/);
  });
});
