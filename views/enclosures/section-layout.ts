/** Where the words beside a drawn section go. Pure arithmetic, so that it can be tested without a browser. */

export type Wanted = { wantedY: number; height: number };

/**
 * Tops for labels that stand in one column, in the order given (from the lowest upwards): each as near as can be to
 * the middle it wants, none over another, all between the two ends.
 */
export function spreadLabels(labels: readonly Wanted[], top: number, bottom: number, gap: number): number[] {
  const tops = labels.map(({ wantedY, height }) => wantedY - height / 2);
  let ceiling = bottom;
  for (const [i, label] of labels.entries()) {
    tops[i] = Math.min(tops[i] ?? 0, ceiling - label.height);
    ceiling = (tops[i] ?? 0) - gap;
  }
  let floor = top;
  for (let i = labels.length - 1; i >= 0; i -= 1) {
    tops[i] = Math.max(tops[i] ?? 0, floor);
    floor = (tops[i] ?? 0) + (labels[i]?.height ?? 0) + gap;
  }
  return tops;
}

/** Words broken into lines of about so many letters; what does not fit into the last line is cut with a mark. */
export function wrapWords(text: string, letters: number, mostLines: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (longer.length <= letters || line === '') line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  if (line !== '') lines.push(line);
  const kept = lines.slice(0, mostLines);
  const last = kept.at(-1) ?? '';
  if (lines.length > mostLines || last.length > letters)
    kept[kept.length - 1] = `${last.slice(0, letters - 1).trimEnd()}…`;
  return kept;
}
