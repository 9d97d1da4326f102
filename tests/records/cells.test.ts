import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCheckNote } from '../../shared/records/check-notes.ts';
import { codeForm, findCode, indexCodes } from '../../shared/records/codes.ts';
import { type DateForm, dateEvidence, readDate } from '../../shared/records/dates.ts';
import { readDetails, writeDetails } from '../../shared/records/details.ts';
import { readDieOffNote } from '../../shared/records/die-off-share.ts';
import { guessMeaning, meanings } from '../../shared/records/meanings.ts';
import { guessOrigin, guessStatus } from '../../shared/records/origins.ts';
import { readPlace, writePlace } from '../../shared/records/places.ts';
import { guessDecimalMark, readNumber } from '../../shared/records/rough-numbers.ts';

const asked: DateForm = { order: null, serial: null };
const dayFirst: DateForm = { order: 'dmy', serial: null };
const monthFirst: DateForm = { order: 'mdy', serial: null };
const on = (cell: string, form = asked) => {
  const read = readDate(cell, form);
  return 'on' in read ? read.on : read.fault;
};

describe('dates', () => {
  it('are read in the forms people write', () => {
    for (const cell of [
      '2025-03-07',
      '2025/3/7',
      '2025.03.07',
      '20250307',
      '7 Mar 25',
      '7 March 2025',
      '07-Mar-25',
      'Mar 7, 2025',
      'March 7th 2025',
      '7th March 2025',
      "7 Mar '25",
      'Fri 7 Mar 2025',
      'Friday, March 7, 2025',
      '7.3.2025',
      '07.03.25',
      '2025-03-07 14:33',
      '2025-03-07T14:33:00Z',
      '7 Mar 2025 2:15 pm',
    ]) {
      expect([cell, on(cell)]).toEqual([cell, '2025-03-07']);
    }
    for (const cell of [
      '7. März 2025',
      '7. Mär. 25',
      'Freitag, 7. März 2025',
      'Fr., 07.03.2025',
      '7 de marzo de 2025',
      '7-mar-2025',
      'viernes, 7 de marzo de 2025',
    ])
      expect([cell, on(cell)]).toEqual([cell, '2025-03-07']);
    expect(['1. Mai 2025', '1. Dez. 2025', '1 ene 2025', '1 Jänner 2025'].map((cell) => on(cell))).toEqual([
      ...['2025-05-01', '2025-12-01', '2025-01-01', '2025-01-01'],
    ]);
    expect(on('7. Mond 2025')).toBe('date-not-understood');
    expect(on('7/3/2025', dayFirst)).toBe('2025-03-07');
    expect(on('3/7/25', monthFirst)).toBe('2025-03-07');
  });

  it('are asked about where day and month could change places, not where they are the same', () => {
    expect(on('03/04/2026')).toBe('date-ambiguous');
    expect(on('05/05/2026')).toBe('2026-05-05');
    expect(on('3.4.2026')).toBe('2026-04-03');
  });

  it('are faulty where no calendar has them', () => {
    expect(on('2026-02-30')).toBe('date-impossible');
    expect(on('31/04/2026', dayFirst)).toBe('date-impossible');
    expect(on('13/13/2026', dayFirst)).toBe('date-impossible');
    expect(on('29 Feb 2023')).toBe('date-impossible');
    expect(on('29 Feb 2024')).toBe('2024-02-29');
    expect(on('1912-01-01')).toBe('date-too-old');
    expect(on('')).toBe('date-missing');
    expect(on('soon')).toBe('date-not-understood');
    expect(on('7 Mat 2025')).toBe('date-not-understood');
    expect(on('45658')).toBe('date-not-understood');
  });

  it('may be the day numbers of a spreadsheet where somebody says so', () => {
    // ECMA-376 part 1, "Dates and times" of SpreadsheetML (section from memory): in the 1900 system 1 January 2000 is 36526; the 1904 system lies 1462 days behind.
    expect(on('36526', { order: null, serial: '1900' })).toBe('2000-01-01');
    expect(on('35064', { order: null, serial: '1904' })).toBe('2000-01-01');
    expect(readDate('36526.75', { order: null, serial: '1900' })).toMatchObject({
      on: '2000-01-01',
      timeLeft: true,
    });
  });

  it('tell the century that was taken and the time that was left out', () => {
    expect(readDate('7 Mar 25', asked)).toEqual({ on: '2025-03-07', twoDigitYear: true, timeLeft: false });
    expect(readDate('2025-03-07 9:00', asked)).toEqual({
      on: '2025-03-07',
      twoDigitYear: false,
      timeLeft: true,
    });
  });

  it('show their order by any number above 12 in the column', () => {
    expect(dateEvidence(['03/04/2026', '13/04/2026', '2026-01-01'])).toMatchObject({
      order: 'dmy',
      undecided: 1,
    });
    expect(dateEvidence(['03/04/2026', '04/13/2026'])).toMatchObject({ order: 'mdy' });
    expect(dateEvidence(['03/04/2026', '05/05/2026'])).toMatchObject({ order: null, undecided: 1 });
    expect(dateEvidence(['13/04/2026', '04/13/2026'])).toMatchObject({ order: null });
  });

  it('come back from every form they are written in', () => {
    const names = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
    const day = fc.date({ min: new Date('2000-01-01'), max: new Date('2099-12-31'), noInvalidDate: true });
    fc.assert(
      fc.property(day, (date) => {
        const iso = date.toISOString().slice(0, 10);
        const [y, m, d] = iso.split('-') as [string, string, string];
        expect(on(iso)).toBe(iso);
        expect(on(`${d}/${m}/${y}`, dayFirst)).toBe(iso);
        expect(on(`${Number(m)}/${Number(d)}/${y}`, monthFirst)).toBe(iso);
        expect(on(`${Number(d)} ${names[Number(m) - 1]} ${y.slice(2)}`)).toBe(iso);
      }),
    );
  });
});

describe('numbers', () => {
  const read = (cell: string, mark: '.' | ',' = '.') => {
    const number = readNumber(cell, mark);
    return 'fault' in number ? number.fault : [number.value, number.wording];
  };

  it('are read plain', () => {
    expect(read('40')).toEqual([40, null]);
    expect(read('1,200')).toEqual([1200, null]);
    expect(read('1 200')).toEqual([1200, null]);
    expect(read('0.5')).toEqual([0.5, null]);
    expect(read('1.200', ',')).toEqual([1200, null]);
    expect(read('0,5', ',')).toEqual([0.5, null]);
  });

  it('keep their wording where they are rough', () => {
    for (const cell of [
      '~40',
      '40+',
      'about 40',
      'ca. 40',
      'c. 40',
      '≈40',
      '40?',
      '40ish',
      'approx. 40',
      '>40',
      '<40',
      'at least 40',
    ]) {
      expect(read(cell)).toEqual([40, cell]);
    }
    expect(read('40-50')).toEqual([45, '40-50']);
    expect(read('40 – 51')).toEqual([45, '40 – 51']);
    expect(read('40 to 50')).toEqual([45, '40 to 50']);
    expect(read('~40-50')).toEqual([45, '~40-50']);
    expect(read('2 dozen')).toEqual([24, '2 dozen']);
    expect(read('a dozen')).toEqual([12, 'a dozen']);
    expect(read('none')).toEqual([0, 'none']);
    expect(read('12 adults')).toEqual([12, '12 adults']);
    expect(readNumber('12 adults', '.')).toMatchObject({ rough: false });
  });

  it('are faulty where they are below zero or no numbers', () => {
    expect([read('-4'), read('− 4'), read('–4')]).toEqual(Array.from({ length: 3 }, () => 'number-negative'));
    for (const cell of [
      '',
      'lots',
      '50-40',
      '4x5',
      '1,2',
      '12,34',
      '1.2.3',
      'NaN',
      'Infinity',
      '0x10',
      '1e3',
      '½',
      'x'.repeat(500),
    ]) {
      expect([cell, read(cell)]).toEqual([cell, 'number-not-understood']);
    }
  });

  it('show their decimal mark', () => {
    expect(guessDecimalMark(['12', '0,5'])).toBe(',');
    expect(guessDecimalMark(['12', '1,200'])).toBe('.');
    expect(guessDecimalMark(['0,5', '0.5'])).toBe('.');
  });

  it('are the number that stands in them, however they are dressed', () => {
    const dress = fc.constantFrom(
      '#',
      '~#',
      '#+',
      'about #',
      'ca. #',
      ' # ',
      'around #',
      '#?',
      'at least #',
      '# animals',
    );
    fc.assert(
      fc.property(fc.nat({ max: 1_000_000 }), dress, (value, form) => {
        expect(readNumber(form.replace('#', String(value)), '.')).toMatchObject({ value });
      }),
    );
  });
});

describe('codes', () => {
  it('are the same in any way of writing them', () => {
    const index = indexCodes(['PO-020', 'PO-021', 'A-1-1', 'A-11']);
    for (const written of ['PO-020', 'po 020', 'Po020', ' PO_020 ', 'po–020', 'PO 20', 'ＰＯ－０２０']) {
      expect([written, findCode(index, written)]).toEqual([written, { code: 'PO-020' }]);
    }
    expect(findCode(index, 'a 1 1')).toEqual({ code: 'A-1-1' });
    expect(findCode(index, 'a11')).toEqual({ code: 'A-11' });
    expect(findCode(index, 'PO-200')).toBeNull();
    expect(findCode(index, '***')).toBeNull();
  });

  it('are never chosen from where two fit', () => {
    const index = indexCodes(['PO-020', 'po 020', 'PO-20']);
    expect(findCode(index, 'PO-020')).toEqual({ code: 'PO-020' });
    expect(findCode(index, 'Po020')).toEqual({ ambiguous: ['PO-020', 'po 020'] });
    expect(findCode(index, 'po 0020')).toEqual({ ambiguous: ['PO-020', 'po 020', 'PO-20'] });
  });

  it('keep one form however they are cased and spaced', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Z]{1,4}-[0-9]{1,5}$/), (code) => {
        expect(codeForm(code.toLowerCase().replace('-', ' '))).toBe(codeForm(code));
        expect(findCode(indexCodes([code]), code.replace('-', ''))).toEqual({ code });
      }),
    );
  });
});

describe('the notes of checks', () => {
  it('say what was seen where every word is understood, and stay notes otherwise', () => {
    expect(readCheckNote('ok')).toMatchObject({ findings: { surface: null, mitesSeen: false }, note: '' });
    expect(readCheckNote('ok, few mites')).toMatchObject({ findings: { mitesSeen: true, mouldSeen: false } });
    expect(readCheckNote('mites, ok')).toMatchObject({ findings: { mitesSeen: true } });
    expect(readCheckNote('')).toMatchObject({ findings: { mitesSeen: null }, note: '' });
    expect(readCheckNote('Dry, 2 dead')).toMatchObject({ findings: { surface: 'dry', deaths: 2 }, note: '' });
    expect(readCheckNote('a bit dry; few mites and young')).toMatchObject({
      findings: { surface: 'dry', mitesSeen: true, youngSeen: true },
      note: '',
    });
    expect(readCheckNote('no mould, many springtails')).toMatchObject({
      findings: { mouldSeen: false, springtails: 'many' },
      note: '',
    });
    expect(readCheckNote('wet, moved the bark')).toMatchObject({
      findings: { surface: 'wet' },
      note: 'wet, moved the bark',
    });
    expect(readCheckNote('not dry yet')).toMatchObject({ findings: { surface: null }, note: 'not dry yet' });
  });
});

describe('the notes of die-offs', () => {
  it('tell a share with its doubt', () => {
    // Factor of the survivors for 10 points either way (5 where the figure is plain), over 1.6449.
    expect(readDieOffNote('lost about 48%')).toEqual({
      survivalMedian: 0.52,
      survivalSdLog: 0.1069,
      rough: true,
    });
    expect(readDieOffNote('lost 48 %')).toEqual({
      survivalMedian: 0.52,
      survivalSdLog: 0.0558,
      rough: false,
    });
    expect(readDieOffNote('half dead')).toMatchObject({ survivalMedian: 0.5, rough: true });
    expect(readDieOffNote('only 20% left')).toMatchObject({ survivalMedian: 0.2 });
    expect(readDieOffNote('two thirds gone')).toMatchObject({ survivalMedian: 0.333 });
    expect(readDieOffNote('lost all')).toMatchObject({ survivalMedian: 0.001 });
  });

  it('tell none where there is none to read', () => {
    for (const note of ['', 'too hot', 'lost many', 'lost 120%', 'lost 0%', '12'])
      expect(readDieOffNote(note)).toBeNull();
  });

  it('always make a survival the model can take', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 100 }), fc.constantFrom('', 'about '), (lost, about) => {
        const { survivalMedian, survivalSdLog } = readDieOffNote(`lost ${about}${lost}%`)!;
        expect(survivalMedian > 0 && survivalMedian < 1 && survivalSdLog > 0 && survivalSdLog < 1).toBe(true);
      }),
    );
  });
});

describe('words', () => {
  it('mean what breeders mean by them, and are asked about where they mean two things', () => {
    expect(
      ['Saw', 'seen', 'SOLD', 'Full count', 'die off', 'Water (ml)', 'fed', 'mold'].map(guessMeaning),
    ).toEqual([
      'visible count',
      'visible count',
      'harvest',
      'full count',
      'die-off',
      'water',
      'feed',
      'mould',
    ]);
    expect(['count', 'counted', 'xyz', ''].map(guessMeaning)).toEqual([null, null, null, null]);
    for (const meaning of meanings) expect(guessMeaning(meaning)).toBe(meaning);
  });

  it('of origins and states are known in German and Spanish too, one for each', () => {
    expect(
      ['Gekauft', 'Wildfang', 'unbekannt', 'comprado', 'silvestre', 'desconocido'].map(guessOrigin),
    ).toEqual(['bought', 'wild', 'unknown', 'bought', 'wild', 'unknown']);
    expect(['aktiv', 'Quarantäne', 'aufgelöst', 'activa', 'cuarentena', 'muerta'].map(guessStatus)).toEqual([
      'active',
      'quarantine',
      'retired',
      'active',
      'quarantine',
      'retired',
    ]);
    expect(['Stichprobe', 'Futterreste raus', 'Verluste', 'Aus der Quarantäne'].map(guessMeaning)).toEqual([
      'sample count',
      'fruit out',
      'die-off',
      'release',
    ]);
  });
});

describe('places and details', () => {
  it('part places at slashes, arrows and commas', () => {
    expect(readPlace('Rack 1 / 4')).toEqual(['Rack 1', '4']);
    expect(readPlace('Cellar > Rack 2, shelf 3')).toEqual(['Cellar', 'Rack 2', 'shelf 3']);
    expect(readPlace('  ')).toEqual([]);
  });

  it('come back as they were written', () => {
    const text = fc.string({ unit: fc.constantFrom('a', 'B', '1', '/', '\\', '>', ',', ';', ':', '-') });
    const filled = text.filter((one) => one.trim() !== '');
    fc.assert(
      fc.property(fc.array(filled), (parts) => {
        expect(readPlace(writePlace(parts))).toEqual(parts);
      }),
    );
    fc.assert(
      fc.property(fc.uniqueArray(fc.constantFrom('food', 'child', 'survival')), text, (names, value) => {
        const pairs = names.map((name) => [name, value] as const);
        expect(readDetails(writeDetails(pairs))).toEqual(new Map(pairs));
      }),
    );
    expect(readDetails('no colon')).toBeNull();
  });
});
