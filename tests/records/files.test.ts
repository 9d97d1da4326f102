import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readRecords, writeRecord } from '../../shared/records/csv.ts';
import { guessDelimiter } from '../../shared/records/delimiter.ts';
import { decodeText } from '../../shared/records/encoding.ts';
import { headerForm } from '../../shared/records/header-words.ts';
import { limits, RecordsError } from '../../shared/records/limits.ts';
import { wordForm } from '../../shared/records/meanings.ts';
import { isFormula, neutralise, restore } from '../../shared/records/neutralise.ts';
import { readTable } from '../../shared/records/table.ts';
import { bytesOf } from './reading.ts';

const utf16 = (text: string, bigEndian: boolean, mark: boolean) => {
  const codes = [...(mark ? '\uFEFF' : ''), ...text].join('');
  const bytes = new Uint8Array(codes.length * 2);
  for (let i = 0; i < codes.length; i += 1) {
    const code = codes.charCodeAt(i);
    bytes[2 * i + (bigEndian ? 0 : 1)] = code >> 8;
    bytes[2 * i + (bigEndian ? 1 : 0)] = code & 255;
  }
  return bytes;
};
const refusal = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    if (error instanceof RecordsError) return error.kind;
    throw error;
  }
  return 'not refused';
};

describe('encoding', () => {
  const text = 'Datum,Käfer\n2026-01-02,“größer” 5 €\n';

  it('tells UTF-8 with and without its mark, and UTF-16 both ways with and without', () => {
    const marked = new Uint8Array([0xef, 0xbb, 0xbf, ...bytesOf(text)]);
    expect(decodeText(bytesOf(text))).toEqual({ text, encoding: 'utf-8', marked: false, replaced: 0 });
    expect(decodeText(marked)).toEqual({ text, encoding: 'utf-8', marked: true, replaced: 0 });
    for (const mark of [true, false]) {
      expect(decodeText(utf16(text, false, mark))).toEqual({
        text,
        encoding: 'utf-16le',
        marked: mark,
        replaced: 0,
      });
      expect(decodeText(utf16(text, true, mark))).toEqual({
        text,
        encoding: 'utf-16be',
        marked: mark,
        replaced: 0,
      });
    }
  });

  it('takes what is no UTF-8 for Windows-1252, with its quotation marks and euro', () => {
    // Unicode Consortium, mapping table CP1252.TXT: 0x80 euro, 0x93 and 0x94 quotation marks, 0xe4 a with diaeresis.
    const bytes = new Uint8Array([0x4b, 0xe4, 0x66, 0x65, 0x72, 0x2c, 0x93, 0x35, 0x94, 0x80]);
    expect(decodeText(bytes)).toEqual({
      text: 'Käfer,“5”€',
      encoding: 'windows-1252',
      marked: false,
      replaced: 0,
    });
    expect(decodeText(new Uint8Array([0x41, 0xe4, 0x81]))).toMatchObject({ replaced: 1 });
  });

  it('tells broken UTF-8 as what it is', () => {
    const bytes = new Uint8Array([...bytesOf('Käfer, größer '), 0xe2, 0x82, 0x0a]);
    expect(decodeText(bytes)).toMatchObject({ encoding: 'utf-8', replaced: 1 });
    const rows = readTable(decodeText(bytes).text, ',', { unreadable: true, headerLine: null }).rows;
    expect(rows[0]!.faults.map((fault) => fault.kind)).toEqual(['broken-text']);
  });

  it('refuses what is no CSV file, each with its reason', () => {
    expect(refusal(() => decodeText(new Uint8Array()))).toBe('empty');
    expect(refusal(() => decodeText(new Uint8Array([0xef, 0xbb, 0xbf])))).toBe('empty');
    expect(refusal(() => decodeText(new Uint8Array(limits.bytes + 1)))).toBe('too-large');
    expect(refusal(() => decodeText(new Uint8Array([0x50, 0x4b, 3, 4, 20])))).toBe('spreadsheet-file');
    expect(refusal(() => decodeText(bytesOf('%PDF-1.7')))).toBe('not-text');
    expect(refusal(() => decodeText(new Uint8Array(200)))).toBe('not-text');
  });
});

describe('records of a CSV text', () => {
  it('follow RFC 4180, with any line end, and know their lines', () => {
    const { records, blank } = readRecords('a,"b ""x""\r\ny",c\r\n\r\n1,2,\r3', ',');
    expect(blank).toBe(1);
    expect(records).toEqual([
      { line: 1, cells: ['a', 'b "x"\r\ny', 'c'], broken: false },
      { line: 4, cells: ['1', '2', ''], broken: false },
      { line: 5, cells: ['3'], broken: false },
    ]);
  });

  it('take a quotation mark inside plain text as text', () => {
    expect(readRecords('6" tub,12" tub\n', ',').records[0]!.cells).toEqual(['6" tub', '12" tub']);
  });

  it('take spaces around a quoted cell as none of it', () => {
    expect(readRecords('a, "b, c"\n', ',').records[0]!.cells).toEqual(['a', 'b, c']);
  });

  it('lose one line to a quotation mark that is not closed, not the file', () => {
    const { records } = readRecords('1,"open\n2,fine\n3,"shut"\n4,"more" said\n5,ok', ',');
    expect(records.map((record) => [record.line, record.broken])).toEqual([
      [1, true],
      [2, false],
      [3, false],
      [4, true],
      [5, false],
    ]);
    expect(records[0]!.cells).toEqual(['1,"open']);
  });

  it('do not let an open quotation mark swallow the rows below it', () => {
    const lines = Array.from({ length: 200 }, (_, at) => `${at},x`);
    const { records } = readRecords(['a,"open', ...lines, 'z,"shut"'].join('\n'), ',');
    expect(records).toHaveLength(202);
    expect(records.filter((record) => record.broken)).toHaveLength(1);
  });

  it('end with the text, also where it ends in white space without a line end', () => {
    for (const space of [' ', '   ', '\t', '\u00a0', ' \u2003 '])
      for (const rows of ['', 'a,b\n', 'a,b\n\n', '1,"open\n', 'a,"b\nc"\n']) {
        const whole = readRecords(`${rows}${space}\n`, ',');
        const cut = readRecords(`${rows}${space}`, ',');
        expect(cut, JSON.stringify(rows + space)).toEqual(whole);
      }
  });

  it('come back from what was written, whatever is in them', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', ';', '\n', '\r', ' ', '\t', 'ä', '=') });
    const record = fc.array(cell, { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        fc.array(record, { minLength: 1 }),
        fc.constantFrom(',', ';', '\t', '|'),
        (rows, delimiter) => {
          const text = rows.map((cells) => `${writeRecord(cells, delimiter)}\r\n`).join('');
          const { records, blank } = readRecords(text, delimiter);
          const filled = rows.filter((cells) => cells.some((cell) => cell.trim() !== ''));
          expect(records.map(({ cells }) => cells)).toEqual(filled);
          expect(blank).toBe(rows.length - filled.length);
        },
      ),
    );
  });
});

describe('delimiter', () => {
  it('is the one that parts the rows evenly', () => {
    expect(guessDelimiter('Code;Note\nA-1;"dry, cold, dark"\nA-2;a, b\n')).toBe(';');
    expect(guessDelimiter('d;n;v\n1;2;0,5\n1;2;0,7\n')).toBe(';');
    expect(guessDelimiter('a\tb\n1,5\t2\n')).toBe('\t');
    expect(guessDelimiter('a|b|c\n1|2|3\n')).toBe('|');
    expect(guessDelimiter('a,b\n"x;y;z",2\n"x;y;z",3\n')).toBe(',');
    expect(guessDelimiter('only one column\nand a row\n')).toBe(',');
    expect(guessDelimiter('sep=;\na,b;c\n')).toBe(';');
  });
});

describe('table', () => {
  it('finds its header below a title, and keeps what stands above', () => {
    const table = readTable('My isopods\n\nDate,Culture,What\n2026-01-01,A-1,check\n', ',');
    expect(table).toMatchObject({ headerLine: 3, labels: ['Date', 'Culture', 'What'], blankRows: 1 });
    expect(table.above.map((row) => row.line)).toEqual([1]);
    expect(table.rows.map((row) => row.line)).toEqual([4]);
  });

  it('names the columns of a file without a header, and columns with one name or none', () => {
    expect(readTable('2026-01-01,A-1,check\n2026-01-02,A-1,check\n', ',')).toMatchObject({
      headerLine: null,
      labels: ['Column 1', 'Column 2', 'Column 3'],
    });
    expect(readTable('Note,,Note\na,b,c\n', ',').labels).toEqual(['Note', 'Column 2', 'Note (2)']);
  });

  it('drops no row with too few or too many cells, and forgives empty cells at the end', () => {
    const table = readTable(
      'Date,Culture,What\n2026-01-01,A-1\n2026-01-01,A-1,check,,\n2026-01-01,A-1,a,b\n',
      ',',
    );
    expect(table.rows.map((row) => row.faults.map((fault) => fault.kind))).toEqual([
      ['ragged'],
      [],
      ['ragged'],
    ]);
    expect(table.rows[0]!.faults[0]!.reason).toBe('The row has 2 cells, the header 3.');
  });

  it('tells the line of a broken quotation mark, and control characters, and cells that are too long', () => {
    const text = `Date,Culture,What\na,"b,c\na,\u0001,c\na,b,${'x'.repeat(10_001)}\n`;
    const table = readTable(text, ',');
    expect(table.rows.map((row) => row.faults.map((fault) => fault.kind))).toEqual([
      ['quotes-broken'],
      ['control-character'],
      ['cell-too-long'],
    ]);
    expect(table.rows[0]!.faults[0]!.reason).toContain('line 2');
  });

  it('refuses more rows and columns than it may have, and counts blank lines as neither', () => {
    const { records, blank } = readRecords(`a,b\n${'\n'.repeat(5_000)}1,2\n`, ',', 20);
    expect([records.length, records[1]?.line, blank]).toEqual([2, 5_002, 5_000]);
    expect(refusal(() => readTable(`a,b\n${'1,2\n'.repeat(limits.rows + 1)}`, ','))).toBe('too-many-rows');
    expect(refusal(() => readTable(`${'a,'.repeat(limits.columns)}b\n1\n`, ','))).toBe('too-many-columns');
  });

  it('takes a mend for the row it was made for, and for no other', () => {
    const text = 'Date,Culture,What\n2026-01-01,A-1\n2026-01-02,A-1\n';
    const mends = [
      { line: 2, was: '2026-01-01,A-1', cells: ['2026-01-01', 'A-1', 'check'] },
      { line: 3, was: 'something else', cells: ['2026-01-01', 'A-1', 'check'] },
    ];
    const table = readTable(text, ',', { mends });
    expect(table.rows.map((row) => [row.cells.length, row.faults.length])).toEqual([
      [3, 0],
      [2, 1],
    ]);
    expect(table.mendsNotUsed).toEqual([3]);
  });
});

describe('texts made to keep a reader busy', () => {
  it('are read in one pass', () => {
    // Each of these took minutes with a pattern that looks back, or with a scan for every cell.
    const many = 400_000;
    for (const text of [
      '('.repeat(many),
      '"'.repeat(many),
      '"a\n'.repeat(5_000),
      '. '.repeat(many / 2),
      '-'.repeat(many),
    ]) {
      expect(readTable(`Date,What\n${text}\n`, ',').rows.length).toBeGreaterThan(0);
    }
    expect(refusal(() => readTable(`${'a,'.repeat(many)}a\n1\n`, ','))).toBe('too-many-columns');
    expect(wordForm(`${'.'.repeat(many)}x`)).toHaveLength(0);
    expect(headerForm('('.repeat(many))).toBe('');
  });
});

describe('cells for a spreadsheet', () => {
  it('are neutralised where a spreadsheet would run them, numbers never', () => {
    // The signs that start a formula: OWASP, "CSV Injection".
    expect(['=1+1', '+1+1', '-1+1', '@SUM(A1)', '\tx', '\rx'].map(neutralise)).toEqual([
      "'=1+1",
      "'+1+1",
      "'-1+1",
      "'@SUM(A1)",
      "'\tx",
      "'\rx",
    ]);
    expect([-4, 0.5, '-4', '-4.25', 'plain', '', "it's"].map(neutralise)).toEqual([
      '-4',
      '0.5',
      '-4',
      '-4.25',
      'plain',
      '',
      "it's",
    ]);
  });

  it('never begin like a formula unless they are a number, and come back as the very same text', () => {
    const text = fc.string({
      unit: fc.constantFrom('=', '+', '-', '@', '\t', '\r', "'", '1', '.', 'a', '＝'),
    });
    fc.assert(
      fc.property(fc.oneof(text, fc.string()), (cell) => {
        const written = neutralise(cell);
        expect(restore(written)).toBe(cell);
        expect(/^[=+\-@\t\r]/.test(written) && !/^-\d+(\.\d+)?$/.test(written)).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('tell a formula from a phone number', () => {
    expect(['=1+1', '@x', '+1 555 0100', '-4', 'a=b'].map(isFormula)).toEqual([
      true,
      true,
      false,
      false,
      false,
    ]);
  });
});
