import { Latin } from '../layout/code.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { Pager } from '../layout/pager.tsx';
import type { SpeciesGroup, SurplusPageProps } from './page-surplus.tsx';

/** Where the other cultures of a species are: on further pages, or on its own. */
export function Rest({ group: g, ...p }: { group: SpeciesGroup } & SurplusPageProps) {
  const { locale } = p.furniture;
  if (g.cultures <= p.pageSize) return null;
  if (p.filter.species)
    return (
      <Pager
        page={p.filter.page}
        pageSize={p.pageSize}
        total={g.cultures}
        href={(page) => p.hrefOf({ page })}
        what="cultures"
        locale={locale}
      />
    );
  return (
    <p>
      The first {formatNumber(g.rows.length, locale)} are shown.{' '}
      <a href={p.hrefOf({ species: g.speciesId })}>
        All {formatCount(g.cultures, 'culture')} of <Latin>{g.scientificName}</Latin>
      </a>
    </p>
  );
}
