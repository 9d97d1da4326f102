import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tidyLine, tidyLines } from '../../shared/text.ts';
import { speakerFor } from '../../views/words/speaker.ts';

describe('text of one line', () => {
  it('is made one line, composed, without control characters', () => {
    expect(tidyLine('  Anna\t Muster\r\n')).toBe('Anna Muster');
    expect(tidyLine('Mu\u0308ller\u0000')).toBe('Müller');
  });
});

describe('what turns the direction of what follows', () => {
  it('goes, and letters that are written from right to left stay', () => {
    expect(tidyLine('Anna \u202e3 groups\u202c \u2067of\u2069')).toBe('Anna 3 groups of');
    expect(tidyLines('\u2066one\n\u202btwo \u05d0\u05d1\u200f')).toBe('one\ntwo \u05d0\u05d1\u200f');
  });

  it('cannot end the isolate that a name stands in', () => {
    const speaker = speakerFor({ language: 'en', locale: 'en-GB' });
    const said = speaker.say('page.from', { business: '\u05d0\u2069\u202e3' });
    expect(said).toContain('\u2068\u05d03\u2069');
    expect(said).not.toContain('\u202e');
  });
});

describe('text of several lines', () => {
  it('keeps its lines and loses what is blank at their ends', () => {
    expect(tidyLines('1 Example Lane \r\nBack door\r\n')).toBe('1 Example Lane\nBack door');
    expect(tidyLines('\n one \t\r\r  two\u00a0\n\n')).toBe('one\n\n  two');
  });

  it('is tidied once for all, and no line of it ends in space', () => {
    const rough = fc.string({ unit: fc.constantFrom('a', ' ', '\t', '\r', '\n', '\u00a0', '\u0000', 'ü') });
    fc.assert(
      fc.property(rough, (text) => {
        const tidy = tidyLines(text);
        expect(tidyLines(tidy)).toBe(tidy);
        expect(tidy.split('\n').every((line) => line === line.trimEnd())).toBe(true);
        expect(tidy.replace(/\s/g, '')).toBe(text.replaceAll('\u0000', '').replace(/\s/g, ''));
      }),
    );
  });

  // A pattern that begins anew at each space would take hours for this.
  it('is tidied in one go, however much space it holds', () => {
    const page = ' '.repeat(1_000_000);
    expect(tidyLines(`one${page}\ntwo${page}three${page}`)).toBe(`one\ntwo${page}three`);
  });
});
