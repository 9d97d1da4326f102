import type { CareDue, DueKind } from '../../shared/checks/care-due.ts';
import type { DueSum } from '../../shared/checks/due.ts';
import { fromRound, inPart, roundPath } from '../../shared/checks/round-address.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { healthWords } from '../cultures/say.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import type { FormFurniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';

/** One thing a culture wants today, and why. */
export type OpenWork = Omit<CareDue, 'sum'> & {
  /** How the day comes about; null where somebody asked for it. */
  sum: DueSum | null;
  /** One tap can say that it was done as always. */
  byTap: boolean;
};

export type RoundRowData = {
  code: string;
  scientificName: string;
  place: string | null;
  /** The shelf it stands on, as a heading says it, and where on the shelf. */
  shelf: string | null;
  shelfId: number | null;
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
const roundRowId = (code: string) =>
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

/** The part of the round that the row stands in; null where there is only one. */
type RowProps = { furniture: FormFurniture; row: RoundRowData; part: number | null };

const wellAction = ({ row, part }: Pick<RowProps, 'row' | 'part'>) =>
  `${cultureHref(row.code)}/all-well${inPart(part)}`;

/** htmx puts the answer of a row's form in the row's place. */
const inPlace = ({ row, part }: Pick<RowProps, 'row' | 'part'>) => ({
  'hx-post': wellAction({ row, part }),
  'hx-target': `#${roundRowId(row.code)}`,
  'hx-swap': 'outerHTML',
});

function WellButton({ furniture, row, part, did, main }: RowProps & { did: boolean; main: boolean }) {
  const label = did ? (alongWords(row.open) ?? 'All well') : 'All well';
  return (
    <PostButton
      furniture={furniture}
      action={wellAction({ row, part })}
      label={label}
      fields={did ? { did: 'yes', what: tapped(row.open) } : {}}
      keyPart={did ? 'did' : undefined}
      ariaLabel={`${row.code}: ${label.toLowerCase()}`}
      kind={main ? 'main' : 'plain'}
      {...inPlace({ row, part })}
    />
  );
}

/** What was foretold is there, or not yet: each is one tap, and a look at the culture. */
function StageButtons({ furniture, row, part, what }: RowProps & { what: 'young' | 'adults' }) {
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
          action={wellAction({ row, part })}
          label={label}
          fields={{ lookedFor }}
          keyPart={lookedFor}
          ariaLabel={`${row.code}: ${label.toLowerCase()}`}
          {...inPlace({ row, part })}
        />
      ))}
    </>
  );
}

/** Work with a form of its own. */
function FormLinks({ row, part }: Omit<RowProps, 'furniture'>) {
  const wants = (kind: DueKind) => row.open.some(({ what }) => what === kind);
  const at = cultureHref(row.code);
  return (
    <>
      {wants('substrate') && (
        <LinkButton
          href={`${at}/check?from=${fromRound(part)}#field-substrate`}
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
      {wants('count') && <CountButton row={row} part={part} />}
    </>
  );
}

function CountButton({ row, part }: Omit<RowProps, 'furniture'>) {
  const method = row.askedCount ? `&method=${row.askedCount.method}` : '';
  return (
    <LinkButton
      href={`${cultureHref(row.code)}/count?from=${fromRound(part)}${method}`}
      ariaLabel={`Count ${row.code}`}
    >
      Count
    </LinkButton>
  );
}

function Undo({ furniture, row, part }: RowProps) {
  if (row.doneEntry === null) return null;
  return (
    <PostButton
      furniture={furniture}
      action={`${cultureHref(row.code)}/diary/${row.doneEntry}/withdraw`}
      label="Undo"
      ariaLabel={`Undo the check of ${row.code}`}
      fields={{ back: roundPath(part), whole: 'yes' }}
      kind="quiet"
    />
  );
}

function Buttons(props: RowProps) {
  const { row, part } = props;
  if (row.open.length === 0) {
    return (
      <>
        <span class="round-done">
          <Mark kind="done" /> {row.counted ? 'Counted' : 'Looked at today'}
        </span>
        <Undo {...props} />
      </>
    );
  }
  const did = alongWords(row.open) !== null;
  const wantsLook = row.open.some(({ what }) => what === 'check');
  return (
    <>
      {did && <WellButton {...props} did main />}
      {wantsLook && <WellButton {...props} did={false} main={!did} />}
      {row.open.map(
        ({ what }) =>
          (what === 'young' || what === 'adults') && <StageButtons key={what} {...props} what={what} />,
      )}
      <FormLinks row={row} part={part} />
      <span class="round-more">
        <LinkButton
          href={`${cultureHref(row.code)}/check?from=${fromRound(part)}`}
          ariaLabel={`${row.code}: note something`}
        >
          Note
        </LinkButton>
        <a
          class="round-wait"
          href={`${cultureHref(row.code)}/put-off${inPart(part)}`}
          aria-label={`Put off ${row.code}`}
        >
          Put off
        </a>
        <Undo {...props} />
      </span>
    </>
  );
}

function Reasons({ row }: { row: RoundRowData }) {
  return (
    <>
      {row.open.map(({ what, reason }) => (
        <span key={what} class="round-reason" data-computed="due">
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
export function RoundRow({ furniture, row, part, oob = false }: RowProps & { oob?: boolean }) {
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
        <Buttons furniture={furniture} row={row} part={part} />
      </div>
    </li>
  );
}

/** Takes a row off an open round: the culture wants nothing any more and was not seen to today. */
export const GoneRow = ({ code }: { code: string }) => <li id={roundRowId(code)} hx-swap-oob="delete" />;
