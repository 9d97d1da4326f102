export type GraphSubject = {
  species: { id: number; scientificName: string; commonName: string };
  /** A single line of the species; null for all of it. */
  line: { id: number; name: string } | null;
};

type Wanted = { focus?: string; up?: number; down?: number; skip?: number; page?: number };

/** The address of the graph of a species or a line, around a culture where one is named. */
export function graphHref(
  { species, line }: Pick<GraphSubject, 'line'> & { species: { id: number } },
  wanted: Wanted = {},
): string {
  const query = new URLSearchParams(line ? { line: String(line.id) } : { species: String(species.id) });
  if (wanted.focus) query.set('focus', wanted.focus);
  for (const name of ['up', 'down', 'skip', 'page'] as const) {
    const value = wanted[name];
    if (value !== undefined && !(name === 'page' && value === 1) && !(name === 'skip' && value === 0))
      query.set(name, String(value));
  }
  return `/lines/graph?${query}`;
}
