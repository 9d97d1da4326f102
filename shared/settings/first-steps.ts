/** What there is already: codes and numbers name where a step leads to. */
export type Begun = {
  species: boolean;
  enclosures: boolean;
  places: boolean;
  cultures: boolean;
  /** A culture that is kept and was never counted, to count first. */
  toCount: string | null;
  counted: boolean;
  /** The kept culture with the most to spare, and how many groups that is. */
  toSplit: { code: string; spareGroups: number } | null;
  split: boolean;
  orders: boolean;
  /** The newest order that is neither packed nor cancelled. */
  toPack: { number: number; confirmed: boolean } | null;
  packed: boolean;
};

const stepKeys = [
  'species',
  'enclosures',
  'places',
  'cultures',
  'count',
  'split',
  'order',
  'packing',
] as const;
export type StepKey = (typeof stepKeys)[number];

export type FirstStep = { key: StepKey; done: boolean; possible: boolean };

const doneBy: Record<StepKey, (begun: Begun) => boolean> = {
  species: ({ species }) => species,
  enclosures: ({ enclosures }) => enclosures,
  places: ({ places }) => places,
  cultures: ({ cultures }) => cultures,
  count: ({ counted }) => counted,
  split: ({ split }) => split,
  order: ({ orders }) => orders,
  packing: ({ packed }) => packed,
};

const possibleWith: Partial<Record<StepKey, (begun: Begun) => boolean>> = {
  cultures: ({ species, enclosures }) => species && enclosures,
  count: ({ toCount }) => toCount !== null,
  split: ({ toSplit }) => toSplit !== null,
  order: ({ species }) => species,
  packing: ({ toPack }) => toPack !== null,
};

/**
 * Which of the first steps are done, and which could be taken now: read from what there is, so that steps taken in
 * another order, or by an import, count as well.
 *
 * Example: with species and enclosures alone, two of eight steps are done, and places and cultures are possible.
 */
export function firstSteps(begun: Begun): FirstStep[] {
  return stepKeys.map((key) => ({
    key,
    done: doneBy[key](begun),
    possible: possibleWith[key]?.(begun) ?? true,
  }));
}

/** The first step that is open and can be taken now; null when there is none. */
export const nextStep = (steps: readonly FirstStep[]): StepKey | null =>
  steps.find(({ done, possible }) => !done && possible)?.key ?? null;
