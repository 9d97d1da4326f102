import type { CheckEntry } from './entries.ts';

export type CheckFindings = Omit<CheckEntry, 'kind' | 'note'>;

/** A check at which nothing else was told. */
const nothingTold: CheckFindings = {
  surface: null,
  springtails: null,
  springtailsWhere: null,
  feedersLeft: null,
  youngSeen: null,
  eggsSeen: null,
  mouldSeen: null,
  mitesSeen: null,
  deaths: null,
};

const WELL =
  /^(?:ok|okay|all ok|all well|well|fine|all fine|good|all good|nothing|no change|as usual|normal|healthy|x|yes|y|✓|✔|1)$/;

// Each phrase must be the whole of a piece of the note; what is part of a longer sentence stays a note.
const PHRASES: readonly [RegExp, (found: CheckFindings, match: RegExpExecArray) => void][] = [
  [
    /^(?:surface |substrate )?(?:very |too |a bit |quite )?(?:wet|soggy|soaked|waterlogged)$/,
    (found) => set(found, 'wet'),
  ],
  [/^(?:surface |substrate )?(?:still |nicely |quite )?(?:moist|damp)$/, (found) => set(found, 'moist')],
  [
    /^(?:surface |substrate )?(?:very |too |a bit |quite |bone )?(?:dry|dried out|parched)$/,
    (found) => set(found, 'dry'),
  ],
  [
    /^no (?:mites?|grain mites)(?: seen)?$/,
    (found) => {
      found.mitesSeen = false;
    },
  ],
  [
    /^(?:few |some |many |grain )?mites?(?: seen)?$/,
    (found) => {
      found.mitesSeen = true;
    },
  ],
  [
    /^no (?:mou?ld)(?: seen)?$/,
    (found) => {
      found.mouldSeen = false;
    },
  ],
  [
    /^(?:some |a bit of |white |green )?(?:mou?ld|mou?ldy)(?: seen)?$/,
    (found) => {
      found.mouldSeen = true;
    },
  ],
  [
    /^(?:young|babies|juveniles|mancae|nymphs|larvae|offspring)(?: seen)?$/,
    (found) => {
      found.youngSeen = true;
    },
  ],
  [
    /^(?:eggs?|gravid|gravid females?|egg sacs?|oothecae?|brooding females?)(?: seen)?$/,
    (found) => {
      found.eggsSeen = true;
    },
  ],
  [
    /^(no|none|few|some|many) springtails$/,
    (found, match) => {
      found.springtails = springtailsOf(match[1]!);
    },
  ],
  [
    /^springtails (none|few|some|many)$/,
    (found, match) => {
      found.springtails = springtailsOf(match[1]!);
    },
  ],
  [
    /^(\d{1,5}) (?:dead|died|deaths?|found dead)$/,
    (found, match) => {
      found.deaths = Number(match[1]);
    },
  ],
  [
    /^(?:dead|deaths?|found dead):? (\d{1,5})$/,
    (found, match) => {
      found.deaths = Number(match[1]);
    },
  ],
];

/**
 * What the note of a check says in words the product knows: wet, moist or dry, mites, mould, young, eggs,
 * springtails, deaths. `ok` says that there was neither mite nor mould, as the one tap for "all well" does; an empty
 * note says only that somebody looked. The note is kept in full where any part of it was not understood.
 *
 * @example readCheckNote('dry, 2 dead') // surface dry, deaths 2, note ''
 */
export function readCheckNote(text: string): { findings: CheckFindings; note: string } {
  const findings = { ...nothingTold };
  const pieces = text
    .toLowerCase()
    .split(/[,;.&\n]|\band\b/)
    .map((piece) => piece.trim().replace(/\s+/g, ' '))
    .filter((piece) => piece !== '');
  const understood = pieces.map((piece) => readPiece(piece, findings));
  return { findings, note: understood.every(Boolean) ? '' : text };
}

function readPiece(piece: string, findings: CheckFindings): boolean {
  if (WELL.test(piece)) {
    findings.mitesSeen ??= false;
    findings.mouldSeen ??= false;
    return true;
  }
  for (const [pattern, apply] of PHRASES) {
    const match = pattern.exec(piece);
    if (match) {
      apply(findings, match);
      return true;
    }
  }
  return false;
}

function set(findings: CheckFindings, surface: CheckFindings['surface']): void {
  findings.surface = surface;
}

function springtailsOf(word: string): CheckFindings['springtails'] {
  if (word === 'few' || word === 'some' || word === 'many') return word;
  return 'none';
}
