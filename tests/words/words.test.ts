import { describe, expect, it } from 'vitest';
import { starterEnclosures } from '../../shared/enclosures/starter-set.ts';
import { languages, localeFor } from '../../shared/settings/languages.ts';
import { termsOf } from '../../shared/species/care-form.ts';
import { standingCautions } from '../../shared/species/cautions.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';
import { Speaker, speakerFor, wordsIn } from '../../views/words/speaker.ts';
import { tradeWord } from '../../views/words/trade.ts';

type Entry = string | { one: string; other: string };

/** Every entry of a language by its key, the forms of a number each for itself. */
function entriesOf(language: keyof typeof wordsIn): Map<string, string> {
  const groups: Record<string, Record<string, Entry>> = wordsIn[language];
  return new Map(
    Object.entries(groups).flatMap(([group, entries]) =>
      Object.entries(entries).flatMap(([name, entry]): [string, string][] => {
        const key = `${group}.${name}`;
        if (typeof entry === 'string') return [[key, entry]];
        return [
          [`${key} (one)`, entry.one],
          [`${key} (other)`, entry.other],
        ];
      }),
    ),
  );
}

const slotsOf = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();

/** Entries that are rightly the same in English and another language: patterns, and words that both have. */
const sameInBoth = new Set(['drawing.layer', 'care.sheet', 'units.quart', 'counts.animals (one)']);

const english = entriesOf('en');

describe.each(languages.filter((language) => language !== 'en'))('the words in %s', (language) => {
  const words = entriesOf(language);

  it('leave nothing out and add nothing', () => {
    expect([...words.keys()].sort()).toEqual([...english.keys()].sort());
  });

  it('are filled in with the same things as the English ones', () => {
    // what is said of one thing may say the number as a word
    const countedAsWord = (key: string) => key.endsWith('(one)');
    for (const [key, text] of words) {
      const [own, wanted] = [slotsOf(text), slotsOf(english.get(key) ?? '')];
      if (countedAsWord(key))
        expect(
          own.filter((name) => name !== 'count'),
          key,
        ).toEqual(wanted.filter((name) => name !== 'count'));
      else if (!key.startsWith('dates.')) expect(own, key).toEqual(wanted);
      expect(text.replaceAll(/\{\w+\}/g, ''), key).not.toMatch(/[{}]/);
    }
  });

  it('are translated', () => {
    const letters = (text: string) => text.replaceAll(/\{\w+\}|[^\p{L}]/gu, '');
    const left = [...words].filter(
      ([key, text]) => letters(text) !== '' && text === english.get(key) && !sameInBoth.has(key),
    );
    expect(left).toEqual([]);
  });

  it('are tidy: no empty entry, no stray space, and the same kind of end', () => {
    for (const [key, text] of words) {
      expect(text.trim(), key).toBe(text);
      expect(text, key).not.toBe('');
      expect(text, key).not.toMatch(/ {2}|["']| [.,;:!?]/);
      if (!key.startsWith('units.'))
        expect(/[.?]$/.test(text), key).toBe(/[.?]$/.test(english.get(key) ?? ''));
    }
  });

  it('name all parts of a day', () => {
    for (const length of ['long', 'short'])
      expect(slotsOf(words.get(`dates.${length}`) ?? '')).toEqual(['date', 'month', 'weekday', 'year']);
  });
});

const speaker = (language: 'en' | 'de' | 'es', locale: string) => speakerFor({ language, locale });

describe('a speaker', () => {
  it('fills in what is given, also what looks like a pattern', () => {
    expect(speaker('de', 'de-DE').say('care.packed', { day: 'Montag' })).toBe('Gepackt am Montag');
    expect(speaker('en', 'en-GB').say('care.line', { line: '$& {line}' })).toBe('Line $& {line}');
  });

  it('counts as the language counts', () => {
    expect(speaker('de', 'de-DE').counted('counts.animals', 1)).toBe('1 Tier');
    expect(speaker('de', 'de-DE').counted('counts.animals', 0)).toBe('0 Tiere');
    expect(speaker('en', 'en-GB').counted('counts.groups', 1200)).toBe('1,200 groups');
    expect(speaker('es', 'es-ES').counted('counts.groups', 2_000_000)).toBe('2.000.000 grupos');
  });

  it('says days as they are said there', () => {
    const days = (language: 'en' | 'de' | 'es', locale: string) =>
      (['long', 'short'] as const).map((length) => speaker(language, locale).day('2026-11-11', length));
    expect(days('en', 'en-GB')).toEqual(['Wednesday 11 November 2026', 'Wed 11 Nov 2026']);
    expect(days('en', 'en-US')).toEqual(['Wednesday, November 11, 2026', 'Wed, Nov 11, 2026']);
    expect(days('de', 'de-AT')).toEqual(['Mittwoch, 11. November 2026', 'Mi. 11. Nov. 2026']);
    expect(days('es', 'es-MX')).toEqual(['miércoles, 11 de noviembre de 2026', 'mié 11 nov 2026']);
    expect(speaker('de', 'de-DE').day('bald')).toBe('bald');
    expect(speaker('de', 'de-DE').day('2026-13-01')).toBe('2026-13-01');
    expect(speaker('de', 'de-DE').day('2026-02-31')).toBe('2026-02-31');
  });

  it('says an instant in the zone of the business', () => {
    const at = Date.UTC(2026, 10, 25, 23, 30);
    expect(speaker('de', 'de-DE').moment(at, 'Europe/Berlin')).toBe('Donnerstag, 26. November 2026, 00:30');
    expect(speaker('es', 'es-ES').moment(at, 'UTC', 'short')).toBe('mié 25 nov 2026, 23:30');
  });

  it('writes measures in the words and figures of the reader', () => {
    const plain = (text: string) => text.replaceAll('\u00a0', ' ');
    const [de, es] = [speaker('de', 'de-DE'), speaker('es', 'es-US')];
    expect(plain(de.temps(18, 25.5, 'metric'))).toBe('18 bis 25,5 °C');
    expect(plain(es.temps(18, 25, 'us'))).toBe('65 a 77 °F');
    expect(plain(es.volume(0.355, 'us'))).toBe('1½ tazas');
    expect(plain(es.length(60, 'us'))).toBe('2⅜ pulg.');
    expect(plain(es.volume(0.0003, 'us'))).toBe('menos de ¼ cdta.');
    expect(plain(de.money(1250, 'EUR'))).toBe('12,50 €');
    expect(plain(speaker('en', 'en-GB').money(1250, 'JPY'))).toBe('JP¥1,250');
    expect(de.country('ES')).toBe('Spanien');
  });

  it('complains of an entry that nobody filled, rather than show the pattern', () => {
    const careless = new Speaker({ language: 'en', locale: 'en-GB' }) as unknown as {
      say(key: string): string;
    };
    expect(() => careless.say('care.packed')).toThrow('{day}');
    expect(() => careless.say('care.nothing')).toThrow('care.nothing');
  });
});

describe('the standing cautions', () => {
  it('are on the care sheet as they are on the page of a species', () => {
    const { noRelease, wash, law } = wordsIn.en.care;
    expect([noRelease, wash, law]).toEqual(standingCautions);
  });
});

describe('words of the trade', () => {
  it('are there for all that the starter set puts on a care sheet', () => {
    const needed = [
      ...starterEnclosures.flatMap(({ name, ventilation }) => [name, ventilation]),
      ...starterSpecies.flatMap(({ commonName, layers }) => [commonName, ...termsOf(null, layers)]),
    ];
    for (const language of ['de', 'es'] as const)
      for (const english of needed) {
        const word = tradeWord(language, english);
        expect(word, `${language}: ${english}`).toBeTruthy();
        expect(word).not.toBe(english);
        expect(/[.]$/.test(word ?? ''), english).toBe(/[.]$/.test(english));
      }
  });
  it('keep a capital, and say nothing of what they do not know', () => {
    expect(tradeWord('de', 'Dry hardwood leaves')).toBe('Trockenes Laub');
    expect(tradeWord('es', 'dry hardwood leaves')).toBe('hojas secas de frondosas');
    expect(tradeWord('es', 'toString')).toBeUndefined();
    expect(tradeWord('en', 'sugar')).toBeUndefined();
  });
});

describe('localeFor', () => {
  it('follows the language and the country, and the business where English has no ways of its own', () => {
    expect(localeFor('de', 'CH', 'en-GB')).toBe('de-CH');
    expect(localeFor('en', 'FR', 'en-AT')).toBe('en-AT');
    expect(localeFor('en', 'US', 'en-GB')).toBe('en-US');
  });
});
