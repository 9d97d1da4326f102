import type { CodeMatch } from './codes.ts';
import type { Findings } from './findings.ts';

const LEADS = /(?:\bto|\binto|->|→|\bnew|\bmade|\bstarted|\bnach|\bneu)\s+(\S.{0,40})$/i;
const MOST_WORDS = 60;
const LONGEST_CODE_IN_WORDS = 3;

/**
 * The new culture that the note of a split names: `to PO-021`, `made po 021`, or its code alone. The note comes
 * back empty where it says nothing else. null with a fault where no one culture is named.
 *
 * @example readSplitChild('to po 021', 'PO-020', context, findings) // { code: 'PO-021', note: '' }
 */
export function readSplitChild(
  note: string,
  parent: string | null,
  context: { findCulture: (text: string) => CodeMatch; noteColumn: string | null },
  findings: Findings,
): { code: string; note: string } | null {
  const named = codesIn(note, context.findCulture);
  const namesItself = parent !== null && named.delete(parent);
  const [first, second] = [...named];
  if (first && !second) {
    const rest = note
      .replace(first[1], '')
      .replace(/\b(?:to|into|new|made|started|nach|neu)\b|->|→|[^\p{L}\p{N}]/giu, '');
    return { code: first[0], note: rest === '' ? '' : note };
  }
  if (first && second) {
    const codes = [...named.keys()].join(', ');
    return findings.fault('child-missing', `The note names several cultures: ${codes}.`, context.noteColumn);
  }
  const lead = LEADS.exec(note)?.[1];
  if (lead && !namesItself) {
    return findings.fault('child-unknown', `There is no culture “${lead.trim()}”.`, context.noteColumn);
  }
  return findings.fault('child-missing', 'The note does not name the new culture.', context.noteColumn);
}

/** The cultures a text names, with the words that name them; the longest reading wins. */
function codesIn(text: string, findCulture: (text: string) => CodeMatch): Map<string, string> {
  const words = text
    .split(/[\s,;()]+/)
    .filter((word) => word !== '')
    .slice(0, MOST_WORDS);
  const found = new Map<string, string>();
  for (let at = 0; at < words.length; at += 1) {
    for (let length = LONGEST_CODE_IN_WORDS; length >= 1; length -= 1) {
      const written = words.slice(at, at + length).join(' ');
      if (!/\p{N}/u.test(written) && length > 1) continue;
      const match = findCulture(written);
      if (match && 'code' in match && at + length <= words.length) {
        found.set(match.code, written);
        at += length - 1;
        break;
      }
    }
  }
  return found;
}
