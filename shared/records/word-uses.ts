import { wordForm } from './meanings.ts';
import type { OpenedFile } from './open-file.ts';
import { guessOrigin, guessStatus } from './origins.ts';
import type { WordUse } from './result.ts';
import { columnCells } from './table.ts';
import type { Workings } from './workings.ts';

/** The words of a file that stand for something of ours, with how many rows use each. */
export function wordUses(file: OpenedFile, workings: Workings): WordUse[] {
  const { mapping } = file.settling;
  if (mapping.kind === 'diary') {
    const means = new Map(mapping.words.map((word) => [wordForm(word.word), word.means]));
    const rows = countWords(file, mapping.columns.what);
    for (const label of mapping.entryColumns) {
      rows.set(
        wordForm(label),
        [...columnCells(file.table, file.table.labels.indexOf(label))].filter(Boolean).length,
      );
    }
    return [...rows].map(([word, count]) => ({
      of: 'what',
      word,
      rows: count,
      means: means.get(word) ?? null,
    }));
  }
  const codes = new Set(
    (workings.cultures?.drafts ?? [])
      .filter((draft) => draft.origin === 'split')
      .map((draft) => wordForm(draft.originText)),
  );
  const origins = new Map(mapping.origins.map((word) => [wordForm(word.word), word.means]));
  const statuses = new Map(mapping.statuses.map((word) => [wordForm(word.word), word.means]));
  const uses: WordUse[] = [];
  for (const [word, rows] of countWords(file, mapping.columns.origin)) {
    if (!codes.has(word))
      uses.push({ of: 'origin', word, rows, means: origins.get(word) ?? guessOrigin(word) });
  }
  for (const [word, rows] of countWords(file, mapping.columns.status)) {
    uses.push({ of: 'status', word, rows, means: statuses.get(word) ?? guessStatus(word) });
  }
  return uses;
}

function countWords(file: OpenedFile, label: string | null | undefined): Map<string, number> {
  const counts = new Map<string, number>();
  const column = typeof label === 'string' ? file.table.labels.indexOf(label) : -1;
  if (column < 0) return counts;
  for (const cell of columnCells(file.table, column)) {
    const word = wordForm(cell);
    if (word !== '') counts.set(word, (counts.get(word) ?? 0) + 1);
  }
  return counts;
}
