import type { DiaryDraft } from './read-diary.ts';

/**
 * Rows of one file that say exactly the same. People do feed twice a day, and people do paste a page twice; the
 * file cannot tell which, so every such row is told with the line it repeats. All are kept unless the person
 * chooses to keep one: a fact left out in silence is worse than one that stands twice and can be seen.
 */
export function settleSameRows(drafts: readonly DiaryDraft[], choice: 'keep all' | 'keep one'): void {
  const first = new Map<string, number>();
  for (const draft of drafts) {
    if (draft.findings.faults.length > 0 || draft.leftOut !== null) continue;
    const said = JSON.stringify([
      draft.on,
      draft.code,
      draft.by,
      ...draft.told.map((told) => [told.meaning, told.source]),
    ]);
    const line = first.get(said);
    if (line === undefined) first.set(said, draft.row.line);
    else if (choice === 'keep one') draft.leftOut = `It says the same as line ${line}.`;
    else draft.findings.notice('same-row', `It says the same as line ${line}. Both are kept.`);
  }
}
