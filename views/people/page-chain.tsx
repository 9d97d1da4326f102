import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Shell } from '../layout/shell.tsx';

export type ChainPageProps = {
  furniture: Furniture;
  report: { rows: number; older: number; erased: number; brokenAt: number | null; last: string | null };
};

/** Whether the record of changes is as it was written. */
export function ChainPage({ furniture, report }: ChainPageProps) {
  const { rows, older, erased, brokenAt, last } = report;
  return (
    <Shell
      furniture={furniture}
      title="Is the record of changes whole?"
      breadcrumbs={[
        { href: '/settings', label: 'Settings' },
        { href: '/settings/changes', label: 'Record of changes' },
      ]}
      purpose="Each line holds a fingerprint of itself and of the line before; here all of them are worked out again."
    >
      {brokenAt === null ? (
        <p>Whole: every line is as it was written, and none is missing between them.</p>
      ) : (
        <p>
          <Mark kind="harm" /> Line {brokenAt} is not as it was written, or the line before it is missing.
          Somebody changed the database itself. Keep a copy of it, and look at who can reach the machine.
        </p>
      )}
      <Facts
        items={[
          { term: 'Lines', value: String(rows) },
          { term: 'Without a fingerprint', value: `${older} (from before there were any)` },
          { term: 'Erased with a person', value: `${erased} (who and when stay)` },
          { term: 'Last fingerprint', value: last === null ? 'none yet' : <code>{last}</code> },
        ]}
      />
      <p class="quiet">
        Lines taken off the end cannot be missed from within. Note the last fingerprint down from time to
        time: it must be found again in the CSV of later days.
      </p>
    </Shell>
  );
}
