import { readFileSync } from 'node:fs';
import type { KnownCulture } from '../../shared/records/culture-book.ts';
import type { Mapping } from '../../shared/records/mapping.ts';
import { type ImportSetting, readImport } from '../../shared/records/read-import.ts';
import type { ImportReading } from '../../shared/records/result.ts';

export const today = '2026-11-25';

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function sample(name: 'cultures.csv' | 'diary.csv'): Uint8Array {
  return new Uint8Array(readFileSync(new URL(`./samples/${name}`, import.meta.url)));
}

/** A culture the records hold, with what a test does not speak of filled in. */
export function knownCulture(code: string, more: Partial<KnownCulture> = {}): KnownCulture {
  return {
    code,
    speciesNames: ['Porcellio laevis', 'milkback'],
    lineName: null,
    foundedOn: '2025-01-01',
    foundingAnimals: 20,
    parents: [],
    largest: null,
    ...more,
  };
}

/** Reads a diary of lines under a header against a few known cultures. */
export function readDiaryOf(
  lines: readonly string[],
  options: {
    header?: string;
    mapping?: Partial<Mapping>;
    known?: KnownCulture[];
  } & Partial<ImportSetting> = {},
): ImportReading {
  const {
    header = 'Date,Culture,What,Number,Note,By',
    mapping,
    known = [knownCulture('A-1'), knownCulture('A-2')],
  } = options;
  const bytes = bytesOf([header, ...lines].join('\n'));
  const told = { version: 1, kind: 'diary', ...mapping } as Mapping;
  return readImport([{ name: 'diary.csv', bytes, mapping: told }], { today, known });
}

/** Reads a list of cultures, and a diary with it where one is given. */
export function readBoth(
  cultures: readonly string[],
  diary: readonly string[] = [],
  options: {
    header?: string;
    mapping?: Partial<Mapping>;
    known?: KnownCulture[];
    synonyms?: string[][];
  } = {},
): ImportReading {
  const { header = 'Code,Species,Started,From,Started with', mapping, known = [], synonyms = [] } = options;
  const told = { version: 1, kind: 'cultures', ...mapping } as Mapping;
  const files = [{ name: 'cultures.csv', bytes: bytesOf([header, ...cultures].join('\n')), mapping: told }];
  if (diary.length > 0) {
    const text = ['Date,Culture,What,Number,Note,By', ...diary].join('\n');
    files.push({
      name: 'diary.csv',
      bytes: bytesOf(text),
      mapping: { version: 1, kind: 'diary' } as Mapping,
    });
  }
  return readImport(files, { today, known, synonyms });
}

/** The kinds of fault by line, for comparing at a glance. */
export function faultsByLine(reading: ImportReading): Record<number, string[]> {
  return Object.fromEntries(
    reading.faulty.map((row) => [row.line, row.reasons.map((reason) => reason.kind)]),
  );
}

/** The kinds of notice that were told, once each. */
export function noticesOf(reading: ImportReading): string[] {
  return [...new Set(reading.notices.map((notice) => notice.kind))].sort();
}
