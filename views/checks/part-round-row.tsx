import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import type { FormFurniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';

export type RoundRowData = {
  code: string;
  scientificName: string;
  place: string | null;
  /** The shelf it stands on, as a heading says it, and where on the shelf. */
  shelf: string | null;
  position: string | null;
  reason: string;
  overdueDays: number;
  health: string;
  inQuarantine: boolean;
  /** The check written today, when there is one. */
  doneEntry: number | null;
};

/** An id that any code can become: letters of all alphabets and signs are spelt as numbers. */
export const roundRowId = (code: string) =>
  `round-${[...code].map((c) => (/[A-Za-z0-9]/.test(c) ? c : `_${c.codePointAt(0)}_`)).join('')}`;

function Buttons({ furniture, row }: { furniture: FormFurniture; row: RoundRowData }) {
  const id = roundRowId(row.code);
  if (row.doneEntry !== null) {
    return (
      <>
        <span class="round-done">
          <Mark kind="done" /> Looked at today
        </span>
        <PostButton
          furniture={furniture}
          action={`${cultureHref(row.code)}/diary/${row.doneEntry}/withdraw`}
          label="Undo"
          ariaLabel={`Undo the check of ${row.code}`}
          fields={{ back: '/round', whole: 'yes' }}
          kind="quiet"
        />
      </>
    );
  }
  return (
    <>
      <PostButton
        furniture={furniture}
        action={`${cultureHref(row.code)}/all-well`}
        label="All well"
        ariaLabel={`${row.code}: all well`}
        kind="main"
        hx-post={`${cultureHref(row.code)}/all-well`}
        hx-target={`#${id}`}
        hx-swap="outerHTML"
      />
      <LinkButton
        href={`${cultureHref(row.code)}/check?from=round`}
        ariaLabel={`${row.code}: note something`}
      >
        Note something
      </LinkButton>
    </>
  );
}

/** One culture of the round; htmx swaps it by itself when it is done. */
export function RoundRow({ furniture, row }: { furniture: FormFurniture; row: RoundRowData }) {
  const trouble = row.health !== 'well';
  return (
    <li
      id={roundRowId(row.code)}
      class={`round-row${row.doneEntry !== null ? ' round-row-done' : ''}${trouble ? ' row-needs-you' : ''}`}
    >
      <div class="round-what">
        <Code href={cultureHref(row.code)}>{row.code}</Code> <Latin>{row.scientificName}</Latin>
        <span class="round-reason">
          {row.position && `Position ${row.position}: `}
          {row.reason}
          {trouble && <strong>; {healthWords[row.health]}</strong>}
        </span>
      </div>
      <div class="round-buttons">
        <Buttons furniture={furniture} row={row} />
      </div>
    </li>
  );
}
