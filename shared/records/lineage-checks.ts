import { ownAncestors } from './ancestors.ts';
import { findCode } from './codes.ts';
import { type BookedCulture, type CultureBook, cultureFinder } from './culture-book.ts';
import type { SettledCulturesMapping } from './mapping.ts';
import { wordForm } from './meanings.ts';
import { guessOrigin } from './origins.ts';
import type { CultureDraft } from './read-cultures.ts';

const MOST_PARENTS = 20;
const PARTED = /[+&,;]|\s\/\s|\band\b|\sx\s/i;

/** Reads where each culture comes from: wild, bought, or the codes of its parents, `PO-020 + PO-025`. */
export function readOrigins(
  drafts: CultureDraft[],
  mapping: SettledCulturesMapping,
  book: CultureBook,
): void {
  const find = cultureFinder(book, mapping.codes);
  const told = new Map(mapping.origins.map(({ word, means }) => [wordForm(word), means]));
  for (const draft of drafts) {
    const text = draft.originText;
    const meaning = text === '' ? 'unknown' : (told.get(wordForm(text)) ?? guessOrigin(text));
    if (meaning) {
      draft.origin = meaning;
      // The word itself may say more than its meaning: which shop, which hill.
      if (text !== '' && wordForm(text) !== meaning)
        draft.note = [draft.note, `From: ${text}`].filter(Boolean).join('; ');
      continue;
    }
    const whole = find(text);
    const pieces = whole ? [text] : text.split(PARTED).filter((piece) => piece.trim() !== '');
    const matches = pieces.map((piece) => find(piece));
    const parents = matches.flatMap((match) => (match && 'code' in match ? [match.code] : []));
    if (pieces.length > 0 && pieces.length <= MOST_PARENTS && parents.length === pieces.length) {
      draft.origin = 'split';
      draft.parents = [...new Set(parents)].map((code) => ({ code, animals: null }));
      continue;
    }
    const ambiguous = matches.find((match) => match && 'ambiguous' in match);
    if (ambiguous && 'ambiguous' in ambiguous) {
      const codes = ambiguous.ambiguous.join(', ');
      draft.findings.fault('code-ambiguous', `“${text}” fits ${codes}.`, mapping.columns.origin ?? null);
    } else {
      const reason = `“${text.slice(0, 80)}” is neither wild nor bought nor the code of a culture.`;
      draft.findings.fault('parent-unknown', reason, mapping.columns.origin ?? null);
    }
  }
}

/** Checks each culture against its parents: age, species, line, and that none is its own ancestor. */
export function checkLineage(
  drafts: CultureDraft[],
  mapping: SettledCulturesMapping,
  book: CultureBook,
  speciesKey: (name: string) => string,
): void {
  const column = mapping.columns.origin ?? null;
  for (const draft of drafts) {
    if (draft.code === null) continue;
    for (const { code } of draft.parents) {
      const parent = book.byCode.get(code);
      if (parent) compareWithParent(draft, parent, column, speciesKey);
    }
  }
  const parentsOf = new Map(
    drafts.flatMap(({ code, parents }) =>
      code === null ? [] : [[code, parents.map((parent) => parent.code)] as const],
    ),
  );
  const cycles = ownAncestors(parentsOf);
  for (const draft of drafts) {
    if (draft.code === null || !cycles.has(draft.code)) continue;
    draft.findings.fault('parent-cycle', `${draft.code} would be its own ancestor.`, column);
  }
}

/** Passes a fault on to the descendants: a culture whose parent is not brought in has no parent. */
export function spreadFaults(drafts: CultureDraft[], column: string | null): void {
  const children = new Map<string, CultureDraft[]>();
  const byCode = new Map<string, CultureDraft>();
  for (const draft of drafts) {
    if (draft.code !== null && !byCode.has(draft.code)) byCode.set(draft.code, draft);
    for (const { code } of draft.parents) append(children, code, draft);
  }
  const waiting = [...byCode.values()].filter((draft) => draft.findings.faults.length > 0);
  const told = new Set(waiting);
  for (let parent = waiting.pop(); parent; parent = waiting.pop()) {
    for (const child of children.get(parent.code ?? '') ?? []) {
      const reason = `Its parent ${parent.code} on line ${parent.row.line} has faults.`;
      if (!child.findings.faults.some((fault) => fault.reason === reason || fault.kind === 'parent-cycle')) {
        child.findings.fault('parent-faulty', reason, column);
      }
      if (!told.has(child)) waiting.push(child);
      told.add(child);
    }
  }
}

/** Whether two codes are written so alike that one must be meant for the other in the records. */
export function knownTwin(code: string, book: CultureBook): BookedCulture | null {
  const match = findCode(book.index, code);
  return match && 'code' in match ? (book.byCode.get(match.code) ?? null) : null;
}

function compareWithParent(
  draft: CultureDraft,
  parent: BookedCulture,
  column: string | null,
  speciesKey: (name: string) => string,
): void {
  const { findings } = draft;
  if (draft.foundedOn !== null && parent.foundedOn !== null && draft.foundedOn < parent.foundedOn) {
    const reason = `Founded on ${draft.foundedOn}, before its parent ${parent.code} on ${parent.foundedOn}.`;
    findings.fault('older-than-parent', reason, column);
  }
  const own = [draft.species, draft.commonName ?? ''].filter(Boolean).map(speciesKey);
  const theirs = new Set(parent.speciesNames.filter(Boolean).map(speciesKey));
  if (own.length > 0 && theirs.size > 0 && !own.some((key) => theirs.has(key))) {
    const reason = `${draft.species} cannot descend from ${parent.code}, ${parent.speciesNames[0]}.`;
    findings.fault('parent-other-species', reason, column);
  }
  if (draft.lineName && parent.lineName && draft.lineName.toLowerCase() !== parent.lineName.toLowerCase()) {
    findings.notice(
      'line-differs',
      `Line ${draft.lineName}, its parent ${parent.code} line ${parent.lineName}.`,
    );
  }
}

function append<V>(map: Map<string, V[]>, key: string, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
