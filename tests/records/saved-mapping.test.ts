import { describe, expect, it } from 'vitest';
import { readImport } from '../../shared/records/read-import.ts';
import { readSavedMapping, writeSavedMapping } from '../../shared/records/saved-mapping.ts';
import { bytesOf, knownCulture, sample, today } from './reading.ts';

const wrong = (text: string) => {
  try {
    readSavedMapping(text);
    return 'taken';
  } catch (error) {
    return (error as Error).message;
  }
};

describe('a saved mapping', () => {
  it('brings everything that was said to the next file, but no mended rows', () => {
    const bytes = bytesOf('D,C,W,N\n02/03/2026,A-1,found,3\n,A-1,found,4\n');
    const said = {
      version: 1 as const,
      kind: 'diary' as const,
      dateOrder: 'mdy' as const,
      columns: { date: 'D', code: 'C', what: 'W', number: 'N' },
      words: [{ word: 'found', means: 'visible count' as const }],
      mends: [{ line: 3, was: ',A-1,found,4', cells: ['02/04/2026', 'A-1', 'found', '4'] }],
    };
    const known = [knownCulture('A-1')];
    const first = readImport([{ name: 'd', bytes, mapping: said }], { today, known });
    expect(first.diary.map((row) => row.on)).toEqual(['2026-02-03', '2026-02-04']);
    const stock = { room: 'Shed', enclosures: [{ name: null, litres: 6 }] };
    const saved = readSavedMapping(writeSavedMapping({ diary: first.files[0]!.mapping as never, stock }));
    expect(saved.stock).toEqual(stock);
    const next = bytesOf('D,C,W,N\n05/03/2026,A-1,found,7\n');
    const second = readImport([{ name: 'd', bytes: next, mapping: saved.diary }], { today, known });
    expect(second.ready).toBe(true);
    expect(second.diary[0]).toMatchObject({
      on: '2026-05-03',
      entry: { count: { method: 'visible', counted: 7 } },
    });
    expect(second.files[0]!.mapping.mends).toEqual([]);
  });

  it('of the sample files reads them to the same end', () => {
    const files = (['cultures.csv', 'diary.csv'] as const).map((name) => ({ name, bytes: sample(name) }));
    const first = readImport(files, { today });
    const text = writeSavedMapping({
      cultures: first.files[0]!.mapping as never,
      diary: first.files[1]!.mapping as never,
    });
    const saved = readSavedMapping(text);
    const again = readImport(
      files.map((file, at) => ({ ...file, mapping: at === 0 ? saved.cultures : saved.diary })),
      { today },
    );
    expect(again.diary).toEqual(first.diary);
    expect(again.cultures).toEqual(first.cultures);
  });

  it('that is none is refused with every fault named', () => {
    expect(wrong('no json')).toBe('The mapping is not JSON. Choose the file that was saved here.');
    expect(wrong('[]')).toContain('This mapping cannot be used.');
    expect(wrong('{"version":2}')).toContain('version: must be 1');
    expect(
      wrong('{"version":1,"diary":{"version":1,"kind":"diary","words":[{"word":"x","means":"fly"}]},"z":1}'),
    ).toBe(
      `This mapping cannot be used. diary.words[0].means: must be one of check, visible count, full count, sample count, removal count, mark-recapture count, water, feed, fruit in, fruit out, harvest, addition, split, die-off, deaths, mites, mould, move, quarantine, release, retirement, note, leave out; z: is not known here`,
    );
    expect(wrong('{"version":1,"stock":{"enclosures":[{"name":"x","litres":-1}]}}')).toContain(
      'stock.enclosures[0].litres: must be more than 0',
    );
    expect(readSavedMapping('\uFEFF{"version":1}')).toEqual({ version: 1 });
  });
});
