import type { DueKind } from '../../shared/checks/care-due.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import type { FormFurniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';

/** One thing a culture wants today, and why. */
export type OpenWork = {
  what: DueKind;
  reason: string;
  overdueDays: number;
  /** One tap can say that it was done as always. */
  byTap: boolean;
};

export type RoundRowData = {
  code: string;
  scientificName: string;
  place: string | null;
  /** The shelf it stands on, as a heading says it, and where on the shelf. */
  shelf: string | null;
  position: string | null;
  /** What it still wants today. */
  open: OpenWork[];
  /** A count that was asked of today's round and is not made yet. */
  askedCount: { id: number; method: string } | null;
  health: string;
  inQuarantine: boolean;
  /** The check written today, when there is one. */
  doneEntry: number | null;
  /** The count that was asked for is made. */
  counted: boolean;
};

/** An id that any code can become: letters of all alphabets and signs are spelt as numbers. */
export const roundRowId = (code: string) =>
  `round-${[...code].map((c) => (/[A-Za-z0-9]/.test(c) ? c : `_${c.codePointAt(0)}_`)).join('')}`;

const along: Partial<Record<DueKind, string>> = { water: 'watered', feed: 'fed', fruit: 'fruit out' };

/** "All well, fed, fruit out": what one tap can say was done. */
function alongWords(open: readonly OpenWork[]): string | null {
  const words = open.flatMap(({ what, byTap }) => (byTap ? (along[what] ?? []) : []));
  return words.length > 0 ? ['All well', ...words].join(', ') : null;
}

/** The kinds that one tap can say were done: "feed fruit". */
const tapped = (open: readonly OpenWork[]) =>
  open.flatMap(({ what, byTap }) => (byTap && along[what] ? what : [])).join(' ');

type RowProps = { furniture: FormFurniture; row: RoundRowData };

function WellButton({ furniture, row, did, main }: RowProps & { did: boolean; main: boolean }) {
  const label = did ? (alongWords(row.open) ?? 'All well') : 'All well';
  return (
    <PostButton
      furniture={furniture}
      action={`${cultureHref(row.code)}/all-well`}
      label={label}
      fields={did ? { did: 'yes', what: tapped(row.open) } : {}}
      keyPart={did ? 'did' : undefined}
      ariaLabel={`${row.code}: ${label.toLowerCase()}`}
      kind={main ? 'main' : 'plain'}
      hx-post={`${cultureHref(row.code)}/all-well`}
      hx-target={`#${roundRowId(row.code)}`}
      hx-swap="outerHTML"
    />
  );
}

/** What was foretold is there, or not yet: each is one tap, and a look at the culture. */
function StageButtons({ furniture, row, what }: RowProps & { what: 'young' | 'adults' }) {
  const action = `${cultureHref(row.code)}/all-well`;
  const answers = [
    { lookedFor: what, label: what === 'young' ? 'Young seen' : 'Adults seen' },
    { lookedFor: `no-${what}`, label: what === 'young' ? 'No young yet' : 'No adults yet' },
  ];
  return (
    <>
      {answers.map(({ lookedFor, label }) => (
        <PostButton
          key={lookedFor}
          furniture={furniture}
          action={action}
          label={label}
          fields={{ lookedFor }}
          keyPart={lookedFor}
          ariaLabel={`${row.code}: ${label.toLowerCase()}`}
          hx-post={action}
          hx-target={`#${roundRowId(row.code)}`}
          hx-swap="outerHTML"
        />
      ))}
    </>
  );
}

/** Work with a form of its own. */
function FormLinks({ row }: { row: RoundRowData }) {
  const wants = (kind: DueKind) => row.open.some(({ what }) => what === kind);
  const at = cultureHref(row.code);
  return (
    <>
      {wants('substrate') && (
        <LinkButton
          href={`${at}/check?from=round#field-substrate`}
          ariaLabel={`${row.code}: fresh substrate`}
        >
          Renewed
        </LinkButton>
      )}
      {wants('retire') && (
        <LinkButton href={`${at}/write?kind=retirement`} ariaLabel={`Retire ${row.code}`}>
          Retire
        </LinkButton>
      )}
      {wants('count') && <CountButton row={row} />}
    </>
  );
}

function CountButton({ row }: { row: RoundRowData }) {
  const method = row.askedCount ? `&method=${row.askedCount.method}` : '';
  return (
    <LinkButton href={`${cultureHref(row.code)}/count?from=round${method}`} ariaLabel={`Count ${row.code}`}>
      Count
    </LinkButton>
  );
}

function Undo({ furniture, row }: RowProps) {
  if (row.doneEntry === null) return null;
  return (
    <PostButton
      furniture={furniture}
      action={`${cultureHref(row.code)}/diary/${row.doneEntry}/withdraw`}
      label="Undo"
      ariaLabel={`Undo the check of ${row.code}`}
      fields={{ back: '/round', whole: 'yes' }}
      kind="quiet"
    />
  );
}

function Buttons({ furniture, row }: RowProps) {
  if (row.open.length === 0) {
    return (
      <>
        <span class="round-done">
          <Mark kind="done" /> {row.counted ? 'Counted' : 'Looked at today'}
        </span>
        <Undo furniture={furniture} row={row} />
      </>
    );
  }
  const did = alongWords(row.open) !== null;
  const wantsLook = row.open.some(({ what }) => what === 'check');
  return (
    <>
      {did && <WellButton furniture={furniture} row={row} did main />}
      {wantsLook && <WellButton furniture={furniture} row={row} did={false} main={!did} />}
      {row.open.map(
        ({ what }) =>
          (what === 'young' || what === 'adults') && (
            <StageButtons key={what} furniture={furniture} row={row} what={what} />
          ),
      )}
      <FormLinks row={row} />
      <LinkButton
        href={`${cultureHref(row.code)}/check?from=round`}
        ariaLabel={`${row.code}: note something`}
      >
        Note
      </LinkButton>
      <a class="round-wait" href={`${cultureHref(row.code)}/put-off`} aria-label={`Put ${row.code} off`}>
        Put off
      </a>
      <Undo furniture={furniture} row={row} />
    </>
  );
}

function Reasons({ row }: { row: RoundRowData }) {
  return (
    <>
      {row.open.map(({ what, reason }) => (
        <span key={what} class="round-reason">
          {reason}
        </span>
      ))}
      {row.health !== 'well' && (
        <span class="round-reason">
          <strong>{healthWords[row.health]}</strong>
        </span>
      )}
    </>
  );
}

/** One culture of the round; htmx swaps it by itself when it is done, or when somebody else has done it. */
export function RoundRow({ furniture, row, oob = false }: RowProps & { oob?: boolean }) {
  const isDone = row.open.length === 0;
  return (
    <li
      id={roundRowId(row.code)}
      class={`round-row${isDone ? ' round-row-done' : ''}${row.health !== 'well' ? ' row-needs-you' : ''}`}
      data-code={row.code}
      data-along={tapped(row.open) || undefined}
      hx-swap-oob={oob ? 'true' : undefined}
    >
      {row.open.some(({ what }) => what === 'check' || along[what]) && (
        <label class="round-tick">
          <input type="checkbox" name="codes" value={row.code} form="round-many" />
          <span class="visually-hidden">Tick {row.code}</span>
        </label>
      )}
      <div class="round-what">
        <Code href={cultureHref(row.code)}>{row.code}</Code> <Latin>{row.scientificName}</Latin>
        {row.position && <span class="round-position"> position {row.position}</span>}
        <Reasons row={row} />
      </div>
      <div class="round-buttons">
        <Buttons furniture={furniture} row={row} />
      </div>
    </li>
  );
}

/** Takes a row off an open round: the culture wants nothing any more and was not seen to today. */
export const GoneRow = ({ code }: { code: string }) => <li id={roundRowId(code)} hx-swap-oob="delete" />;

/** The form of the ticked rows: its buttons stay under the thumb while something is open. */
export function ManyBar({ furniture, did }: { furniture: FormFurniture; did: boolean }) {
  return (
    <form
      id="round-many"
      class="round-many"
      method="post"
      action="/round/all-well"
      aria-label="Ticked cultures"
    >
      <input type="hidden" name="_csrf" value={furniture.csrfToken} />
      <input type="hidden" name="formKey" value={`${furniture.formKey}.many`} />
      <span>The ticked ones:</span>
      <Button kind="main">All well</Button>
      {did && (
        <Button name="did" value="yes">
          All well, did what was due
        </Button>
      )}
    </form>
  );
}
