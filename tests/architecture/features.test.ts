import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** What belongs to no feature, by room. */
const ofNoFeature: Record<string, readonly string[]> = {
  server: ['plumbing', 'schema'],
  views: ['layout', 'words'],
  shared: ['numbers'],
};

const foldersOf = (room: string) =>
  readdirSync(room, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !ofNoFeature[room]?.includes(entry.name))
    .map(({ name }) => name);

/** The words that DEVELOPERS.md gives, one for each feature. */
const words =
  /One word per feature, the same in every room: ([a-z,\s]+)\./
    .exec(readFileSync('DEVELOPERS.md', 'utf8'))?.[1]
    ?.split(/,\s+/) ?? [];

describe('features', () => {
  it('of the server are those that DEVELOPERS.md names', () => {
    expect(foldersOf('server').sort()).toEqual([...words].sort());
  });

  it.each(['views', 'shared'])('go by the same words in %s', (room) => {
    expect(foldersOf(room).filter((name) => !words.includes(name))).toEqual([]);
  });
});
