import { z } from 'zod';
import { drying } from './climate/drying.ts';
import { dryingInput } from './climate/drying-form.ts';
import { vapour, vapourInput } from './climate/vapour.ts';
import { countEstimate } from './counts/count.ts';
import { countInput } from './counts/form.ts';
import { populationInput } from './counts/population/form.ts';
import { population } from './counts/population/population.ts';
import { development, developmentInput } from './development/development.ts';
import { CalculationError, type Fault, faultsOf, inWords } from './faults.ts';
import { feeders } from './feeders/feeders.ts';
import { feedersInput } from './feeders/form.ts';
import { lineageInput, mixingInput, traceInput } from './lines/form.ts';
import { lineage } from './lines/lineage.ts';
import { mixing } from './lines/mixing.ts';
import { trace } from './lines/trace.ts';
import { allocate } from './orders/allocate.ts';
import { allocateInput } from './orders/allocate-form.ts';
import { climateDay, climateDayInput } from './parcels/climate-day.ts';
import { dispatchDays, dispatchDaysInput } from './parcels/dispatch-days.ts';
import { parcel } from './parcels/parcel.ts';
import { parcelInput } from './parcels/parcel-form.ts';
import { parcelOptions } from './parcels/parcel-options.ts';
import { parcelOptionsInput } from './parcels/parcel-options-form.ts';
import { substrateInput, substrateMix } from './species/substrate.ts';
import { starterGroup, starterGroupInput } from './splits/starter-group.ts';
import { countNext } from './surplus/count-next.ts';
import { countNextInput, surplusInput } from './surplus/form.ts';
import { surplus } from './surplus/surplus.ts';

/**
 * A calculation that can be asked for by name: what it answers, what it takes, and how to run it. Most answer at
 * once; one that has to load a solver first promises its answer.
 */
export interface Calculation<O extends Outcome | Promise<Outcome> = Outcome | Promise<Outcome>> {
  answers: string;
  input: z.ZodType;
  run(input: unknown): O;
}

export type Outcome = { ok: true; result: object } | { ok: false; faults: Fault[] };

/**
 * Every calculation by the name the command line knows. To add one: a line here with its question,
 * its input schema and its function.
 */
export const calculations = {
  allocate: promised('which cultures fill which orders', allocateInput, allocate),
  'climate-day': calculation("a day's hours from its low and high", climateDayInput, climateDay),
  count: calculation('head count from what could be seen', countInput, countEstimate),
  'count-next': calculation('which count frees the most stock', countNextInput, countNext),
  development: calculation('when they hatch, when they are adult', developmentInput, development),
  'dispatch-days': promised('which days a parcel may start', dispatchDaysInput, dispatchDays),
  drying: calculation('when the next water is due', dryingInput, drying),
  feeders: promised('how many feeder cultures to start, and when', feedersInput, feeders),
  lineage: calculation('inbreeding and kinship over splits and mixings', lineageInput, lineage),
  mixing: calculation('which cultures may strengthen which', mixingInput, mixing),
  parcel: calculation('what the animals feel on the way', parcelInput, parcel),
  'parcel-options': calculation('how a parcel can be sent safely', parcelOptionsInput, parcelOptions),
  population: calculation(
    'how many now, how fast, how full, and the weeks ahead',
    populationInput,
    population,
  ),
  'starter-group': calculation('how many animals make a safe start', starterGroupInput, starterGroup),
  substrate: calculation('what to mix for a number of enclosures', substrateInput, substrateMix),
  surplus: calculation('what a culture can spare', surplusInput, surplus),
  trace: calculation('who had contact with a flagged culture', traceInput, trace),
  vapour: calculation('how dry the air is', vapourInput, vapour),
} satisfies Record<string, Calculation>;

/** The JSON Schema (draft 2020-12) of what a calculation takes, as zod writes it. */
export function inputSchema(calculation: Calculation): object {
  return z.toJSONSchema(calculation.input, { io: 'input' });
}

function calculation<S extends z.ZodType>(
  answers: string,
  input: S,
  answer: (input: z.output<S>) => object,
): Calculation<Outcome> {
  return {
    answers,
    input,
    run(given) {
      const parsed = input.safeParse(given, { error: inWords });
      if (!parsed.success) return { ok: false, faults: faultsOf(parsed.error) };
      try {
        return finite(answer(parsed.data));
      } catch (error) {
        return failed(error);
      }
    },
  };
}

function promised<S extends z.ZodType>(
  answers: string,
  input: S,
  answer: (input: z.output<S>) => Promise<object>,
): Calculation<Promise<Outcome>> {
  return {
    answers,
    input,
    async run(given) {
      const parsed = input.safeParse(given, { error: inWords });
      if (!parsed.success) return { ok: false, faults: faultsOf(parsed.error) };
      try {
        return finite(await answer(parsed.data));
      } catch (error) {
        return failed(error);
      }
    },
  };
}

function failed(error: unknown): Outcome {
  if (!(error instanceof CalculationError)) throw error;
  return { ok: false, faults: [{ path: error.path, message: error.message }] };
}

/** JSON has no Infinity and would print null in its place; a number that ran away is a fault instead. */
function finite(result: object): Outcome {
  if (onlyFinite(result)) return { ok: true, result };
  throw new CalculationError('leads to numbers too large to be written down');
}

function onlyFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return true;
  return Object.values(value).every(onlyFinite);
}
