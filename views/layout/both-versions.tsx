import type { ComponentChildren } from 'preact';
import { Notice } from './notice.tsx';
import { DataTable } from './table.tsx';

export type Difference = { field: string; stored: ComponentChildren; yours: ComponentChildren };

type BothVersionsProps = {
  /** Who saved meanwhile, and when, in words; null when that is not known. */
  savedBy: string | null;
  savedWhen: ComponentChildren;
  differences: readonly Difference[];
};

/** Two people edited the same thing: what is stored now beside what was typed, so that neither is lost unseen. */
export function BothVersions({ savedBy, savedWhen, differences }: BothVersionsProps) {
  return (
    <section class="slip" aria-label="Both versions" tabIndex={-1} data-focus="now">
      <Notice tone="needs-you">
        {savedBy ?? 'Somebody'} saved this {savedWhen}, while you were editing. What you typed still stands in
        the form below; saving it again puts yours in place of theirs.
      </Notice>
      {differences.length === 0 ? (
        <p>You both wrote the same.</p>
      ) : (
        <DataTable
          caption="Where the two differ"
          rows={differences}
          rowKey={(row) => row.field}
          columns={[
            { key: 'field', head: 'Field', cell: (row) => row.field },
            { key: 'stored', head: 'Stored now', cell: (row) => row.stored || '(empty)' },
            { key: 'yours', head: 'Yours', cell: (row) => row.yours || '(empty)' },
          ]}
        />
      )}
    </section>
  );
}
