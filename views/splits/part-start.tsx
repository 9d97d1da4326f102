import type { StartEffect } from '../../shared/lines/page-start.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import { type Column, DataTable } from '../layout/table.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { clonalWords, floorWords, formatGeneShare } from '../lines/say.ts';

export type Start = StartEffect & {
  /** The effective size of what stays in the parent; null where it is not known. */
  leftEffective: number | null;
};

export type StartEffectsProps = {
  code: string;
  clonal: boolean;
  parentKept: number | null;
  /** An effective size that is called small, and how many animals reach it. */
  floor: { effective: number; animals: number | null };
  /** What stands in the form; null while nothing sensible does. */
  typed: Start | null;
  /** Starts of usual sizes. */
  usual: Start[];
  locale?: string;
};

/** An effective size is never known to the animal: small ones with one digit, larger ones whole. */
const effective = (size: number, locale?: string) => `about ${formatNumber(size, locale, size < 10 ? 1 : 0)}`;

function startWords({ code, typed, parentKept, locale }: StartEffectsProps): string {
  if (!typed)
    return parentKept === null
      ? ''
      : `${code} keeps ${formatGeneShare(parentKept, locale)} of its founders’ heterozygosity.`;
  const start = `${formatCount(typed.animals, 'animal', 'animals', locale)}: an effective size of ${effective(typed.effectiveSize, locale)}`;
  const kept =
    typed.kept === null || parentKept === null
      ? `${formatGeneShare(typed.keptOfParent, locale)} of ${code}’s heterozygosity come along`
      : `the new culture keeps ${formatGeneShare(typed.kept, locale)} of the founders’ heterozygosity, ${code} ${formatGeneShare(parentKept, locale)}`;
  const left =
    typed.leftEffective === null
      ? ''
      : ` The effective size of what stays is ${effective(typed.leftEffective, locale)}.`;
  return `${start}; ${kept}.${left}`;
}

/** What the animals that are typed do to effective size and heterozygosity; htmx swaps it while they are typed. */
export function StartEffectWords(props: StartEffectsProps) {
  return (
    <p id="start-effect" class="start-effect" aria-live="polite">
      {props.clonal ? clonalWords : <Computed of="kinship">{startWords(props)}</Computed>}
    </p>
  );
}

function columnsFor({ code, parentKept, locale }: StartEffectsProps): Column<Start>[] {
  return [
    {
      key: 'animals',
      head: 'Animals moved',
      rowHeader: true,
      cell: (row) => formatCount(row.animals, 'animal', 'animals', locale),
    },
    { key: 'effective', head: 'Effective size', cell: (row) => effective(row.effectiveSize, locale) },
    parentKept === null
      ? {
          key: 'kept',
          head: `Comes along of ${code}’s heterozygosity`,
          numeric: true,
          cell: (row) => formatGeneShare(row.keptOfParent, locale),
        }
      : {
          key: 'kept',
          head: 'New culture keeps',
          numeric: true,
          cell: (row) => formatGeneShare(row.kept ?? row.keptOfParent, locale),
        },
    {
      key: 'left',
      head: `Effective size left in ${code}`,
      cell: (row) => (row.leftEffective === null ? '' : effective(row.leftEffective, locale)),
    },
  ];
}

/** The same for starts of usual sizes, and where the numbers come from. */
export function UsualStarts(props: StartEffectsProps) {
  const { clonal, floor, usual, locale } = props;
  if (clonal) return null;
  return (
    <WorkedOut of="kinship" label="What starts of other sizes would do">
      <DataTable
        caption="Starts and what they keep"
        hideCaption
        columns={columnsFor(props)}
        rows={usual}
        rowKey={(row) => row.animals}
      />
      <p>{floorWords(floor, locale)}</p>
      <p>
        Only so many of the animals count for breeding: the effective size is the species’ share of them, less
        when one sex is rarer. A start from N effective animals loses 1 in 2N of the heterozygosity at once
        (Wright 1931), and each generation as much again until the colony has grown: a larger start is the
        cheapest cure.
      </p>
    </WorkedOut>
  );
}
