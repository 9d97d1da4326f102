import { h } from 'preact';
import { effectiveSize } from '../../shared/lines/effective-size.ts';
import { animalsForEffective, effectiveFloor, isClonal, startEffect } from '../../shared/lines/page-start.ts';
import { safeStartAnimals } from '../../shared/splits/safe-start.ts';
import { type Start, type StartEffectsProps, StartEffectWords } from '../../views/splits/part-start.tsx';
import { readEstimate } from '../counts/queries-estimate.ts';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { kinOf } from '../lines/queries-kin.ts';
import { type Answer, part } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';

/** Starts of a dozen, two and four are what people ask about; the safe one is added. */
const usual = [12, 24, 48];
const most = 200_000;

const wholeIn = (value: unknown): number => {
  const text = String(value ?? '').trim();
  return /^\d{1,6}$/.test(text) ? Number(text) : 0;
};

/** How many animals a form or an address moves; null while nothing sensible is typed. */
const typedIn = (values: FormState['values']): number | null => {
  const animals = wholeIn(values.adults) + wholeIn(values.juveniles);
  return animals > 0 && animals <= most ? animals : null;
};

/** What the start that is typed, and those of usual sizes, do to the effective size and to the heterozygosity, here and in the new culture. */
export function startsOf(
  call: Pick<StaffCall, 'db' | 'today' | 'furniture'>,
  { culture, species }: LoadedCulture,
  values: FormState['values'],
): StartEffectsProps {
  const typed = typedIn(values);
  const mating = { femaleShare: species.femaleShare, neRatio: species.effectiveRatio };
  const kin = kinOf(call.db, culture, call.today);
  const number = readEstimate(call.db, culture.id)?.median ?? null;
  const startOf = (animals: number): Start => ({
    ...startEffect(animals, mating, kin?.heterozygosityKept ?? null),
    leftEffective: number === null || number < animals ? null : effectiveSize(number - animals, mating),
  });
  const sizes = [...usual, safeStartAnimals(species)].filter((n) => n !== null);
  return {
    code: culture.code,
    clonal: isClonal(mating),
    parentKept: kin && !kin.clonal ? kin.heterozygosityKept : null,
    floor: { effective: effectiveFloor, animals: animalsForEffective(effectiveFloor, mating) },
    typed: typed === null ? null : startOf(typed),
    usual: [...new Set(sizes)].sort((a, b) => a - b).map(startOf),
    locale: call.furniture.locale,
  };
}

/** The same for what stands in the form just now. */
export function showStart(call: StaffCall): Answer {
  const loaded = loadKeptCulture(call.db, call.params.code ?? '', 'split off');
  return part(h(StartEffectWords, startsOf(call, loaded, call.query)));
}
