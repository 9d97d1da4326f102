import { groupsField } from '../../shared/orders/form.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import type { Candidate } from '../../views/orders/candidates.tsx';
import type { CultureLeft } from '../../views/orders/part-leaves.tsx';
import { isEntered, type ProposedLine } from '../../views/orders/part-proposal.tsx';
import type { Verdict } from '../../views/orders/say-proposal.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type WhyApart, whyApartIn } from './apart.ts';
import { candidate, isAble, smallEffective, whyNotBeside } from './candidates.ts';
import { type Draft, type OpenLine, type StockBySpecies, stockFor } from './drafts.ts';
import { type StockRow, stockOfCultures } from './queries-stock.ts';
import type { Wish } from './reserve.ts';
import { isOwnMakeUp, spareFor } from './spare.ts';

/** What was proposed: groups, what is not filled and why, and how good it is. */
export type Answered = { unmet: ReadonlyMap<number, { groups: number; why: string }>; verdict: Verdict };

/** What a page of a proposal shows: the drafts, and the groups entered, by proposal or by hand. */
export type Shown = {
  drafts: readonly Draft[];
  wishes: readonly Wish[];
  form: FormState | null;
  answered: Answered | null;
  today: string;
};

export type Proposal = {
  lines: ReadonlyMap<number, ProposedLine>;
  leaves: CultureLeft[];
  form: FormState;
  catchingUp: boolean;
};

/** What the groups entered take from each culture. */
type Taken = { animals: number; ownGroups: number; orders: Set<number> };

function takenBy(drafts: readonly Draft[], wishes: readonly Wish[]): Map<number, Taken> {
  const lines = new Map(
    drafts.flatMap(({ number, lines: open }) => open.map(({ line }) => [line.id, { line, number }])),
  );
  const taken = new Map<number, Taken>();
  for (const { lineId, cultureId, groups } of wishes) {
    const known = lines.get(lineId);
    if (!known) continue;
    const one = taken.get(cultureId) ?? { animals: 0, ownGroups: 0, orders: new Set() };
    one.animals += groups * animalsPerGroup(known.line);
    if (isOwnMakeUp(known.line)) one.ownGroups += groups;
    one.orders.add(known.number);
    taken.set(cultureId, one);
  }
  return taken;
}

const nothing: Taken = { animals: 0, ownGroups: 0, orders: new Set() };

function leavesOf({ line }: OpenLine, row: StockRow, taken: Taken): Candidate['leaves'] {
  const promised = row.promised + taken.animals;
  const left = { ...row, promised, spareGroups: Math.max(0, row.spareGroups - taken.ownGroups) };
  return {
    groups: spareFor(line, left),
    animals: row.promisable - promised,
    smallEffective: taken.animals > 0 ? smallEffective(taken.animals, row) : null,
  };
}

/** The page has room for so many boxes; a form has to travel in one piece. */
const mostFields = 1_200;
const mostOthers = 200;
/** A page of more lines than this would not leave each of them a few other cultures. */
export const mostLinesShown = 240;

type Showing = {
  shown: Shown;
  form: FormState;
  stock: StockBySpecies;
  taken: Map<number, Taken>;
  why: WhyApart;
};

function proposedLine(open: OpenLine, { shown, form, stock, taken, why }: Showing): ProposedLine {
  const { line, has, beside } = open;
  const asked = {
    today: shown.today,
    chosen: null,
    why: (row: StockRow) => whyNotBeside(line, row, beside, why),
  };
  const rows = (stock.get(line.speciesId) ?? []).map((row) => ({
    ...candidate(line, row, asked),
    leaves: leavesOf(open, row, taken.get(row.id) ?? nothing),
  }));
  const from = rows.filter((row) => isEntered(form, line.id, row.id));
  const others = rows
    .filter((row) => isAble(row) && !from.includes(row))
    .sort((a, b) => b.spareGroups - a.spareGroups);
  const lines = shown.drafts.reduce((sum, draft) => sum + draft.lines.length, 0);
  const room = Math.min(mostOthers, Math.max(0, Math.floor(mostFields / lines) - from.length));
  const own = shown.wishes.filter((wish) => wish.lineId === line.id);
  return {
    line: { ...line, has },
    from,
    entered: own.reduce((sum, wish) => sum + wish.groups, 0),
    others: others.slice(0, room),
    notShown: Math.max(0, others.length - room),
    unmet: shown.answered?.unmet.get(line.id) ?? null,
  };
}

/** The stock, and cultures that were entered although they have nothing to spare any more. */
function stockShown(db: Db, { drafts, wishes, form }: Shown): StockBySpecies {
  const typed = Object.keys({ ...form?.errors, ...form?.values }).flatMap((name) => {
    const id = /^groups-\d+-(\d{1,15})$/.exec(name)?.[1];
    return id === undefined || !form?.errors[name] ? [] : [Number(id)];
  });
  const entered = stockOfCultures(db, [...new Set([...wishes.map((wish) => wish.cultureId), ...typed])]);
  return new Map(
    [...stockFor(db, drafts)].map(([speciesId, rows]) => {
      const known = new Set(rows.map((row) => row.id));
      const more = [...entered.values()].filter((row) => row.speciesId === speciesId && !known.has(row.id));
      return [speciesId, [...rows, ...more]] as const;
    }),
  );
}

function leftIn(stock: StockBySpecies, taken: Map<number, Taken>): CultureLeft[] {
  return [...stock.values()].flat().flatMap((row) => {
    const had = taken.get(row.id);
    if (!had) return [];
    const spare = Math.max(0, row.promisable - row.promised);
    return [
      {
        id: row.id,
        code: row.code,
        place: row.place,
        scientificName: row.scientificName,
        promisable: row.promisable,
        promised: row.promised,
        spare,
        taken: had.animals,
        left: spare - had.animals,
        smallEffective: smallEffective(had.animals, row),
        orders: [...had.orders],
      },
    ];
  });
}

/** The groups of wishes in their boxes. */
function valuesOf(wishes: readonly Wish[]): FormState {
  const values = wishes.map((wish) => [groupsField(wish.lineId, wish.cultureId), wish.groups]);
  return { values: Object.fromEntries(values), errors: {} };
}

/** All that a page of a proposal says, from what is stored now. */
export function proposalOf(db: Db, shown: Shown): Proposal {
  const form = shown.form ?? valuesOf(shown.wishes);
  const stock = stockShown(db, shown);
  const taken = takenBy(shown.drafts, shown.wishes);
  const rules = new Map([...stock.keys()].map((id) => [id, whyApartIn(db, id)]));
  const lines = shown.drafts.flatMap((draft) =>
    draft.lines.map((open) => {
      const why = rules.get(open.line.speciesId)!;
      return [open.line.id, proposedLine(open, { shown, form, stock, taken, why })] as const;
    }),
  );
  const rows = [...stock.values()].flat();
  return {
    lines: new Map(lines),
    leaves: leftIn(stock, taken),
    form: withNoughts(
      form,
      lines.map(([, line]) => line),
    ),
    catchingUp: rows.some((row) => row.asOf !== null && row.asOf < shown.today),
  };
}

/** What could also give stands there with 0. */
function withNoughts(form: FormState, lines: readonly ProposedLine[]): FormState {
  const values = { ...form.values };
  for (const { line, others } of lines) for (const { id } of others) values[groupsField(line.id, id)] ??= 0;
  return { ...form, values };
}
