import { describe, expect, it } from 'vitest';
import { printable, stretchesOf, UNPRINTABLE, Warnings } from '../../views/documents/characters.ts';

const stretches = (text: string, face: 'regular' | 'bold' | 'mono' = 'regular') => {
  const warnings = new Warnings();
  return { found: stretchesOf(text, face, warnings), warnings: warnings.list };
};

describe('printable', () => {
  it.each([
    ['controls go', 'a\u0007b\u0000c', 'abc'],
    ['line ends are one kind', 'a\r\nb\rc\u2028d', 'a\nb\nc\nd'],
    ['a tab is a space', 'a\tb', 'a b'],
    ['letters and marks are composed', 'e\u0301', 'é'],
    ['ready-made ligatures are taken apart', 'o\ufb03ce', 'office'],
    ['direction marks and soft hyphens go', 'a\u202eb\u00adc\u200bd', 'abcd'],
    ['half a surrogate pair goes', 'a\ud800b', 'ab'],
    ['figure and narrow spaces do not break', '1\u202f000', '1\u00a0000'],
  ])('%s', (_name, given, wanted) => expect(printable(given)).toBe(wanted));
});

describe('stretchesOf', () => {
  it('keeps the wanted face where it has the letters', () => {
    expect(stretches('Łódź, Zürich', 'bold').found).toEqual([{ text: 'Łódź, Zürich', face: 'bold' }]);
  });
  it('draws a whole word in the fallback rather than patch it from two faces', () => {
    expect(stretches('Nguyễn Thị').found).toEqual([{ text: 'Nguyễn Thị', face: 'fallback' }].flatMap(split));
  });
  it('takes the bold fallback beside bold', () => {
    expect(stretches('Снежана', 'bold').found).toEqual([{ text: 'Снежана', face: 'fallbackBold' }]);
  });
  it('puts one marker for a run that no font has, keeps the rest and says so', () => {
    const { found, warnings } = stretches('𐒀𐒁 Ishi 🎉');
    expect(found.map((each) => each.text).join('')).toBe(`${UNPRINTABLE} Ishi ${UNPRINTABLE}`);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toContain('𐒀 𐒁 🎉');
  });
  it('says each thing once', () => {
    const warnings = new Warnings();
    stretchesOf('🎉', 'regular', warnings);
    stretchesOf('🎉', 'regular', warnings);
    expect(warnings.list).toHaveLength(1);
    expect(warnings.unprintable).toBe(2);
  });
});

/** The space between two words stays in the wanted face. */
function split({ text, face }: { text: string; face: string }) {
  return text.split(/( )/).map((part) => ({ text: part, face: part === ' ' ? 'regular' : face }));
}
