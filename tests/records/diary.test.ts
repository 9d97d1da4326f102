import { describe, expect, it } from 'vitest';
import { readImport } from '../../shared/records/read-import.ts';
import { bytesOf, faultsByLine, knownCulture, noticesOf, readDiaryOf, today } from './reading.ts';

const entriesOf = (lines: string[], options: Parameters<typeof readDiaryOf>[1] = {}) =>
  readDiaryOf(lines, options).diary.map((row) => row.entry);

describe('the rows of a diary', () => {
  it('may have the amount of water in the note where there is no number', () => {
    expect(entriesOf(['2026-01-01,A-1,gegossen,,100 ml,', '2026-01-01,A-1,water,,0.5 l,'])).toEqual([
      { kind: 'water', waterMl: 100, note: '' },
      { kind: 'water', waterMl: 500, note: '' },
    ]);
    expect(faultsByLine(readDiaryOf(['2026-01-01,A-1,water,,100 ml at noon,']))).toEqual({
      2: ['number-missing'],
    });
  });

  it('that are mended with another row are listed last', () => {
    const reading = readImport(
      [
        {
          name: 'c.csv',
          bytes: bytesOf('Code,Species,Started,From,Started with\nB-1,Porcellio laevis,2025-01-01,somehow,9'),
        },
        { name: 'd.csv', bytes: bytesOf('Date,Culture,What\n2026-01-01,B-1,mites\n2026-01-02,B-1,mites') },
      ],
      { today },
    );
    expect(reading.faultyKinds.map(({ kind }) => kind).at(-1)).toBe('culture-faulty');
  });

  it('become entries of every kind', () => {
    const entries = entriesOf([
      '2026-01-01,A-1,check,,ok,',
      '2026-01-01,A-1,checked,,"dry, few mites",',
      '2026-01-01,A-1,saw,~40,under the bark,',
      '2026-01-01,A-1,full count,84,,',
      '2026-01-01,A-1,sample count,31,20 % of the soil,',
      '2026-01-01,A-1,removal count,"77, 50, 37",,',
      '2026-01-01,A-1,mark-recapture count,,"marked 30, caught 25, recaptured 8",',
      '2026-01-01,A-1,watered,0.5 l,,',
      '2026-01-01,A-1,fed,,fish flake,',
      '2026-01-01,A-1,sold,12,starter group,',
      '2026-01-01,A-1,added,5,from the show,',
      '2026-01-01,A-1,died,,lost 30%,',
      '2026-01-01,A-1,dead,3,,',
      '2026-01-01,A-1,mites,,under the lid,',
      '2026-01-01,A-1,moved,,to Rack 2 / 3,',
      '2026-01-01,A-1,quarantine,,,',
      '2026-01-01,A-1,note,,new lid,',
      '2026-01-01,A-1,fruit in,,apple,',
    ]);
    const check = {
      kind: 'check',
      surface: null,
      springtails: null,
      springtailsWhere: null,
      feedersLeft: null,
    };
    const unseen = { youngSeen: null, eggsSeen: null, mouldSeen: null, mitesSeen: null, deaths: null };
    const counted = { kind: 'count', wording: null, note: '' };
    const moved = { adults: null, juveniles: null };
    expect(entries).toEqual([
      { ...check, ...unseen, mouldSeen: false, mitesSeen: false, note: '' },
      { ...check, ...unseen, surface: 'dry', mitesSeen: true, note: '' },
      { ...counted, count: { method: 'visible', counted: 40 }, wording: '~40', note: 'under the bark' },
      { ...counted, count: { method: 'full', counted: 84 } },
      { ...counted, count: { method: 'sample', counted: 31, fraction: 0.2 }, note: '20 % of the soil' },
      { ...counted, count: { method: 'removal', catches: [77, 50, 37], estimator: 'carle-strub' } },
      {
        ...counted,
        count: { method: 'mark-recapture', marked: 30, caught: 25, recaptured: 8, estimator: 'chapman' },
        note: 'marked 30, caught 25, recaptured 8',
      },
      { kind: 'water', waterMl: 500, note: '' },
      { kind: 'feed', food: 'fish flake', fromCode: null, note: '' },
      { kind: 'harvest', toCode: null, animals: 12, ...moved, note: 'starter group' },
      { kind: 'addition', animals: 5, ...moved, fromCode: null, note: 'from the show' },
      { kind: 'die-off', survivalMedian: 0.7, survivalSdLog: 0.0419, note: 'lost 30%' },
      { ...check, ...unseen, deaths: 3, note: '' },
      { kind: 'mites', note: 'under the lid' },
      { kind: 'move', place: ['Rack 2', '3'], note: '' },
      { kind: 'quarantine', note: '' },
      { kind: 'note', note: 'new lid' },
      { kind: 'fruit-in', note: 'apple' },
    ]);
  });

  it('tell every fault they have, not only the first', () => {
    const reading = readDiaryOf([
      '2026-02-30,ZZ-9,seen,-4,,',
      ',,,,,',
      'soon,A-1,dances,,,',
      '2024-01-01,A-1,sold,0,,',
      '2026-01-01,A-1,sold,2.5,,',
      '2026-01-01,A-1,seen,30000,,',
      '2026-01-01,A-1,water,,,',
      '2026-01-01,A-1,water,3 sprays,,',
      '2026-01-01,A-1,water,40 l,,',
      '2026-01-01,A-1,die-off,,too hot,',
      '2026-01-01,A-1,split,12,,',
      '2026-01-01,A-1,split,12,to B-7,',
      '2026-01-01,A-1,move,,,',
      '2026-01-01,A-1,sample count,31,,',
      '2026-01-01,A-1,,,,',
      '2026-01-01,A-1,note,,,',
      `2026-01-01,A-1,note,,${'x'.repeat(4001)},`,
    ]);
    expect(faultsByLine(reading)).toEqual({
      2: ['date-impossible', 'code-unknown', 'number-negative'],
      4: ['date-not-understood', 'word-not-understood'],
      5: ['date-before-founding', 'number-zero'],
      6: ['number-not-whole'],
      7: ['number-too-large'],
      8: ['number-missing'],
      9: ['unit-not-understood'],
      10: ['number-too-large'],
      11: ['share-missing'],
      12: ['child-missing'],
      13: ['child-unknown'],
      14: ['text-missing'],
      15: ['details-missing'],
      16: ['word-missing'],
      17: ['text-missing'],
      18: ['text-too-long'],
    });
    expect(reading.files[0]!.counts).toMatchObject({ rows: 16, faulty: 16, blank: 1 });
    const group = reading.faultyKinds.find((kind) => kind.kind === 'number-too-large')!;
    expect(group).toMatchObject({ rows: 2, lines: [7, 10], leftOut: false });
  });

  it('keep what an entry has no place for', () => {
    const reading = readDiaryOf(['2026-01-01,A-1,check,5,ok,', '2026-01-01,A-1,fed,2 g,veg,'], {
      header: 'Date,Culture,What,Number,Note,Mood',
    });
    expect(reading.diary.map((row) => row.entry.note)).toEqual(['5', '']);
    expect(reading.diary[1]!.entry).toMatchObject({ food: 'veg (2 g)' });
    expect(noticesOf(reading)).toContain('number-kept-in-note');
  });

  it('keep columns of no other use in the note, or leave them out as told', () => {
    const lines = ['2026-01-01,A-1,check,,dry,sunny'];
    const header = 'Date,Culture,What,Number,Note,Weather';
    const kept = readDiaryOf(lines, { header });
    expect(kept.diary[0]!.entry).toMatchObject({ surface: 'dry', note: 'Weather: sunny' });
    const left = readDiaryOf(lines, { header, mapping: { keepInNote: [] } });
    expect(left.diary[0]!.entry).toMatchObject({ note: '' });
    expect(left.files[0]!.columnsLeftOut).toEqual([{ label: 'Weather', filled: 1 }]);
  });

  it('become what a person says their words mean', () => {
    const lines = ['2026-01-01,A-1,count,30,,', '2026-01-02,A-1,Music,,loud,', 'soon,,Music,,,'];
    expect(faultsByLine(readDiaryOf(lines))).toEqual({
      2: ['word-not-understood'],
      3: ['word-not-understood'],
      4: ['date-not-understood', 'code-missing', 'word-not-understood'],
    });
    const words = [
      { word: 'count', means: 'full count' as const },
      { word: 'music', means: 'leave out' as const },
    ];
    const reading = readDiaryOf(lines, { mapping: { words } });
    expect(reading.diary.map((row) => row.entry)).toMatchObject([{ count: { method: 'full', counted: 30 } }]);
    expect(reading.leftOut.map((row) => [row.line, row.why])).toEqual([
      [3, '“Music” is left out.'],
      [4, '“Music” is left out.'],
    ]);
    expect(reading.ready).toBe(true);
  });

  it('take a rough full count for a full count in doubt, never for animals that showed', () => {
    const reading = readDiaryOf(['2026-01-01,A-1,full count,about 80,,']);
    expect(reading.diary[0]!.entry).toMatchObject({
      count: { method: 'full', counted: 80, relativeSd: 0.2 },
      wording: 'about 80',
    });
    expect(noticesOf(reading)).toEqual(['rough-full-count']);
  });

  it('take what is set for all rows that tell nothing', () => {
    const reading = readDiaryOf(['2026-01-01,A-1,water,,,', '2026-01-01,A-1,died,,heat,'], {
      mapping: { waterMl: 20, lostPercent: 40 },
    });
    expect(reading.diary.map((row) => row.entry)).toMatchObject([
      { waterMl: 20 },
      { survivalMedian: 0.6, note: 'heat' },
    ]);
    expect(noticesOf(reading)).toEqual(['die-off-assumed', 'water-assumed']);
  });

  it('keep rows that say the same unless one is asked for, and tell them either way', () => {
    const lines = ['2026-01-01,A-1,fed,,veg,', '2026-01-01,a 1,Fed,,veg,', '2026-01-02,A-1,fed,,veg,'];
    const kept = readDiaryOf(lines);
    expect(kept.diary).toHaveLength(3);
    expect(kept.notices.filter((notice) => notice.kind === 'same-row').map((notice) => notice.line)).toEqual([
      3,
    ]);
    expect(new Set(kept.diary.map((row) => row.prints.content)).size).toBe(3);
    const one = readDiaryOf(lines, { mapping: { sameRows: 'keep one' } });
    expect(one.diary).toHaveLength(2);
    expect(one.leftOut).toMatchObject([{ line: 3, why: 'It says the same as line 2.' }]);
  });

  it('are known again in another file that says the same in other forms', () => {
    const iso = readDiaryOf(['2026-01-13,A-1,seen,40,,anna', '2026-01-14,A-1,sold,12,,anna']);
    const other = readDiaryOf(['14/01/2026,a1,harvest,12,,anna', '13/01/2026,a 1,saw,40,,anna']);
    const contents = (reading: typeof iso) => reading.diary.map((row) => row.prints.content);
    expect(contents(other)).toEqual(contents(iso));
    // The same file under another meaning of its word tells the same rows.
    const again = readDiaryOf(['2026-01-13,A-1,seen,40,,anna', '2026-01-14,A-1,sold,12,,anna'], {
      mapping: { words: [{ word: 'seen', means: 'full count' }] },
    });
    expect(again.diary.map((row) => row.prints.source)).toEqual(iso.diary.map((row) => row.prints.source));
    expect(contents(again)).not.toEqual(contents(iso));
  });

  it('take a code that is corrected for all rows', () => {
    const lines = ['2026-01-01,Tub A,check,,ok,', '2026-01-01,tub a,check,,dry,'];
    expect(faultsByLine(readDiaryOf(lines))).toEqual({ 2: ['code-unknown'], 3: ['code-unknown'] });
    const reading = readDiaryOf(lines, { mapping: { codes: [{ written: 'Tub A', means: 'A-1' }] } });
    expect(reading.diary.map((row) => row.code)).toEqual(['A-1', 'A-1']);
  });
});

describe('what only a person can say', () => {
  it('is the order of the dates where nothing shows it', () => {
    const lines = ['03/04/2026,A-1,check,,ok,', '05/05/2026,A-1,check,,ok,'];
    const reading = readDiaryOf(lines);
    expect(reading.files[0]!.questions).toMatchObject([
      { kind: 'date-order', column: 'Date', examples: ['03/04/2026'] },
    ]);
    expect(faultsByLine(reading)).toEqual({ 2: ['date-ambiguous'] });
    expect(reading.ready).toBe(false);
    expect(readDiaryOf(lines, { mapping: { dateOrder: 'mdy' } })).toMatchObject({
      ready: true,
      diary: [{ on: '2026-03-04' }, {}],
    });
    expect(readDiaryOf(lines, { mapping: { dateOrder: 'dmy' } })).toMatchObject({
      ready: true,
      diary: [{ on: '2026-04-03' }, {}],
    });
  });

  it('is whether numbers are dates', () => {
    const lines = ['46023,A-1,check,,ok,', '46024,A-1,check,,ok,'];
    const reading = readDiaryOf(lines);
    expect(reading.files[0]!.questions).toMatchObject([
      { kind: 'serial-dates', examples: ['46023', '46024'] },
    ]);
    expect(faultsByLine(reading)).toEqual({ 2: ['date-not-understood'], 3: ['date-not-understood'] });
    const told = readDiaryOf(lines, { mapping: { serialDates: '1900' } });
    expect(told).toMatchObject({ ready: true, diary: [{ on: '2026-01-01' }, { on: '2026-01-02' }] });
  });

  it('is which column holds what, where neither header nor cells show it', () => {
    const reading = readDiaryOf(['x,y,z'], { header: 'Foo,Bar,Baz' });
    expect(reading.files[0]!.questions).toMatchObject([
      { kind: 'columns-needed', roles: ['date', 'code', 'what'] },
    ]);
    expect(reading).toMatchObject({ ready: false, diary: [], faulty: [] });
    const missing = readDiaryOf(['2026-01-01,A-1,check'], {
      header: 'Date,Culture,What',
      mapping: { columns: { note: 'Remarks' } },
    });
    expect(missing.files[0]!.questions).toMatchObject([{ kind: 'column-not-found', label: 'Remarks' }]);
  });
});

describe('diaries of other shapes', () => {
  it('may have a column for each thing done', () => {
    const reading = readDiaryOf(
      [
        '2026-01-01,A-1,12,30,veg,yes,ok',
        '2026-01-02,A-1,,,,no,dry',
        '2026-01-03,A-2,~9,,,x,',
        '2026-01-04,A-2,,,,,',
        '2026-01-05,A-1,-3,,,,',
      ],
      { header: 'Date,Culture,Seen,Water (ml),Fed,Mites,Check' },
    );
    expect(reading.files[0]!.mapping).toMatchObject({
      entryColumns: ['Seen', 'Water (ml)', 'Fed', 'Mites', 'Check'],
    });
    expect(reading.diary.map((row) => [row.line, row.entry.kind])).toEqual([
      [2, 'count'],
      [2, 'water'],
      [2, 'feed'],
      [2, 'mites'],
      [2, 'check'],
      [3, 'check'],
      [4, 'count'],
      [4, 'mites'],
    ]);
    expect(reading.diary[6]!.entry).toMatchObject({ count: { counted: 9 }, wording: '~9' });
    expect(faultsByLine(reading)).toEqual({ 5: ['word-missing'], 6: ['number-negative'] });
  });

  it('may speak of one culture and one thing alone', () => {
    const reading = readDiaryOf(['2026-01-01,30', '2026-01-08,33'], {
      header: 'Date,Number',
      mapping: { codeForAll: 'A-1', meaningForAll: 'full count' },
    });
    expect(reading).toMatchObject({ ready: true, diary: [{ code: 'A-1', entry: { kind: 'count' } }, {}] });
  });

  it('may have semicolons, decimal commas, another encoding and no header', () => {
    const text = '13.01.2026;a 1;gegossen;12,5;größer\n14.01.2026;a 1;gegossen;20;\n';
    const bytes = Uint8Array.from(text, (character) => character.charCodeAt(0));
    const known = [knownCulture('A-1')];
    const first = readImport([{ name: 'd.csv', bytes }], { today, known });
    expect(first.files[0]).toMatchObject({
      encoding: 'windows-1252',
      labels: ['Column 1', 'Column 2', 'Column 3', 'Column 4', 'Column 5'],
    });
    expect(first.files[0]!.mapping).toMatchObject({
      headerLine: null,
      columns: { date: 'Column 1', code: 'Column 2' },
    });
    const columns = {
      date: 'Column 1',
      code: 'Column 2',
      what: 'Column 3',
      number: 'Column 4',
      note: 'Column 5',
    };
    const words = [{ word: 'gegossen', means: 'water' as const }];
    const mapping = { version: 1 as const, kind: 'diary' as const, columns, words };
    const reading = readImport([{ name: 'd.csv', bytes, mapping }], { today, known });
    expect(reading.ready).toBe(true);
    expect(reading.diary.map((row) => row.entry)).toEqual([
      { kind: 'water', waterMl: 12.5, note: 'größer' },
      { kind: 'water', waterMl: 20, note: '' },
    ]);
  });

  it('come in from UTF-16 with tabs', () => {
    const text = 'Date\tCulture\tWhat\tNumber\n2026-01-01\tA-1\tseen\t7\n';
    const bytes = new Uint8Array([0xff, 0xfe, ...Array.from(bytesOf(text)).flatMap((byte) => [byte, 0])]);
    const reading = readImport([{ name: 'd.txt', bytes }], { today, known: [knownCulture('A-1')] });
    expect(reading).toMatchObject({ ready: true, diary: [{ on: '2026-01-01', code: 'A-1' }] });
  });
});

describe('more taken than could be there', () => {
  it('is caught from the founding, the growth and the counts of a culture', () => {
    const cultures = 'Code,Species,Started,From,Started with\nA-1,Porcellio laevis,2026-01-01,wild,12\n';
    const faults = (...lines: string[]) => {
      const bytes = bytesOf(['Date,Culture,What,Number', ...lines].join('\n'));
      return faultsByLine(
        readImport(
          [
            { name: 'c', bytes: bytesOf(cultures) },
            { name: 'd', bytes },
          ],
          { today },
        ),
      );
    };
    const caught = { 2: ['more-than-there'] };
    // Twice 12 and 20 are 44; fourfold a week later 176.
    expect(faults('2026-01-01,A-1,sold,44')).toEqual({});
    expect(faults('2026-01-01,A-1,sold,45')).toEqual(caught);
    expect(faults('2026-01-08,A-1,sold,176')).toEqual({});
    expect(faults('2026-01-08,A-1,sold,177')).toEqual(caught);
    // A count of all says more than the time that went by: at most 4 x 30 + 20.
    expect(
      faults('2026-06-01,A-1,sold,141', '2026-06-01,A-1,full count,30', '2026-06-01,A-1,sold,1'),
    ).toEqual({});
    expect(faults('2026-06-01,A-1,full count,30', '2026-06-01,A-1,sold,141')).toEqual({
      3: ['more-than-there'],
    });
    // What is taken is gone, and the row that was caught took nothing.
    expect(faults('2026-01-01,A-1,sold,30', '2026-01-01,A-1,sold,15')).toEqual({ 3: ['more-than-there'] });
    expect(faults('2026-01-01,A-1,sold,100', '2026-01-01,A-1,sold,44')).toEqual(caught);
    expect(faults('2026-01-01,A-1,added,100', '2026-01-01,A-1,sold,144')).toEqual({});
    // 200 seen prove 200, and perhaps fifty times as many.
    expect(faults('2026-01-01,A-1,seen,200', '2026-01-01,A-1,sold,10000')).toEqual({});
  });

  it('knows what a culture of the records can hold, or what the person says', () => {
    const known = [knownCulture('A-1', { largest: 300 })];
    const lines = ['2026-01-01,A-1,sold,301,,'];
    expect(faultsByLine(readDiaryOf(lines, { known }))).toEqual({ 2: ['more-than-there'] });
    expect(faultsByLine(readDiaryOf(['2026-01-01,A-1,sold,20001,,']))).toEqual({ 2: ['more-than-there'] });
    expect(
      faultsByLine(readDiaryOf(['2026-01-01,A-1,sold,20001,,'], { mapping: { largestColony: 50_000 } })),
    ).toEqual({});
  });
});
