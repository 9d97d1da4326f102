import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { Code } from '../layout/code.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { Estimate } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import type { PartnerRow } from './page-mixing.tsx';
import { formatF, formatGeneShare } from './say.ts';

export type PartnerTableProps = { code: string; partners: PartnerRow[]; locale?: string };

/** What it can spare, against what is needed. */
function Spare({ row, locale }: { row: PartnerRow; locale?: string }) {
  const { spareAnimals, animalsForGain } = row;
  if (spareAnimals === 0) return <span class="quiet">nothing now</span>;
  const enough = animalsForGain !== null && spareAnimals >= animalsForGain;
  const words = formatCount(spareAnimals, 'animal', 'animals', locale);
  return <span class={enough ? 'enough' : undefined}>{words}</span>;
}

/** Who it is. */
function partnerColumns(locale?: string): Column<PartnerRow>[] {
  return [
    {
      key: 'partner',
      head: 'Partner',
      rowHeader: true,
      cell: (row) => (
        <>
          <Code href={cultureHref(row.code)}>{row.code}</Code>
          {row.line && <span class="quiet"> line {row.line}</span>}
        </>
      ),
    },
    {
      key: 'animals',
      head: 'Lives in it',
      phoneWide: true,
      cell: (row) =>
        row.median === null || row.lower === null || row.upper === null ? (
          'not known'
        ) : (
          <Estimate median={row.median} lower={row.lower} upper={row.upper} locale={locale} />
        ),
    },
  ];
}

/** What its animals would do. */
function gainColumns(code: string, locale?: string): Column<PartnerRow>[] {
  const number = (animals: number | null) =>
    animals === null ? 'out of reach' : formatNumber(animals, locale);
  return [
    {
      key: 'kinship',
      head: 'Kinship',
      numeric: true,
      computed: 'kinship',
      cell: (row) => formatF(row.kinship, locale),
    },
    {
      key: 'after',
      computed: 'mixing',
      head: `${code} would keep`,
      numeric: true,
      cell: (row) => <strong>{formatGeneShare(row.heterozygosityAfter, locale)}</strong>,
    },
    {
      key: 'best',
      computed: 'mixing',
      head: 'with so many',
      phoneLabel: 'With so many',
      numeric: true,
      cell: (row) => number(row.animals),
    },
    {
      key: 'half',
      computed: 'mixing',
      head: 'Half the best gain with',
      numeric: true,
      cell: (row) => number(row.animalsForGain),
    },
  ];
}

function columnsFor({ code, locale }: PartnerTableProps): Column<PartnerRow>[] {
  return [
    ...partnerColumns(locale),
    ...gainColumns(code, locale),
    {
      key: 'spare',
      head: 'Can spare now',
      computed: 'surplus',
      cell: (row) => <Spare row={row} locale={locale} />,
    },
    { key: 'health', head: 'Health', cell: (row) => healthWords[row.health] ?? row.health },
    {
      key: 'choose',
      head: 'Choose',
      hideHead: true,
      phoneLabel: '',
      cell: (row) => (
        <span class="row-links">
          <a
            href={`${cultureHref(code)}/mixing?from=${encodeURIComponent(row.code)}#mix`}
            aria-label={`Choose ${row.code}`}
          >
            Choose
          </a>
        </span>
      ),
    },
  ];
}

/** Cultures whose animals would raise what a culture keeps, the best first. */
export function PartnerTable(props: PartnerTableProps) {
  return (
    <DataTable
      caption={`Partners for ${props.code}, the best first`}
      columns={columnsFor(props)}
      rows={props.partners}
      rowKey={(row) => row.code}
      rowTone={(row) => (row.health === 'well' ? undefined : 'needs-you')}
    />
  );
}
