import { extrasField, tickField } from '../../shared/orders/form.ts';
import { makeUpWords } from '../../shared/orders/make-up.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import { ChoiceField, checkOf, ErrorSummary, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { Findings, type FindingsProps } from '../movement/part-findings.tsx';
import { SpeciesName } from './order-lines.tsx';
import { sayPicks } from './say-cups.ts';

export type Pick = {
  key: string;
  code: string;
  place: string | null;
  line: string | null;
  scientificName: string;
  commonName: string;
  groups: number;
  animals: number;
  groupAdults: number;
  groupJuveniles: number;
  groupExtras: number;
  /** Unrelated starts: its cups are not put together with those of other lines. */
  separateLines: boolean;
  blocked: string | null;
  caution: string | null;
};

export type PackPageProps = {
  furniture: Furniture;
  order: { number: number; dispatchOn: string | null; note: string; customerName: string };
  picks: readonly Pick[];
  movement: Omit<FindingsProps, 'furniture'>;
  form: FormState;
};

/** Whom the box is for and when it leaves, in one line. */
export function boxWords(
  order: { customerName: string; dispatchOn: string | null },
  locale?: string,
): string {
  const day = order.dispatchOn ? `, leaves ${formatDay(order.dispatchOn, locale, 'weekday')}` : '';
  return `For ${order.customerName}${day}`;
}

/** What one pick takes: cups and animals. */
export function PickWords({ pick }: { pick: Pick }) {
  return (
    <>
      <span class="pick-species">
        <SpeciesName {...pick} />
      </span>
      <span class="pick-what">
        <strong>{formatCount(pick.groups, 'cup')}</strong>, each {makeUpWords(pick)}
      </span>
      <span class="quiet">
        <Computed of="cups">{pick.animals} animals in all</Computed>
      </span>
      {pick.separateLines && (
        <span>Unrelated starts: each cup from a different line of cultures. Do not put them together.</span>
      )}
    </>
  );
}

/** Extras are counted as juveniles unless the packer says otherwise. */
function Extras({ pick, form }: { pick: Pick; form: FormState }) {
  if (pick.groupExtras === 0) return null;
  const { value, ...field } = fieldOf(form, extrasField(pick.key));
  const extras = pick.groups * pick.groupExtras;
  const one = extras === 1;
  return (
    <details class="pick-extras" open={value === 'adults'}>
      <summary>
        {one ? 'The extra counts as a juvenile' : `The ${extras} extras count as juveniles`}; change
      </summary>
      <ChoiceField
        label={one ? 'What the extra was' : 'What the extras were'}
        hideLabel
        {...field}
        value={value ?? 'juveniles'}
        options={[
          { value: 'juveniles', label: one ? 'Juvenile' : 'Juveniles' },
          { value: 'adults', label: one ? 'Adult' : 'Adults' },
        ]}
      />
    </details>
  );
}

function PickCard({ pick, form, mayPack }: { pick: Pick; form: FormState; mayPack: boolean }) {
  const tick = checkOf(form, tickField(pick.key));
  return (
    <li class="pick">
      <label class="pick-face" htmlFor={tick.id}>
        <span class="pick-words">
          <span class="pick-place">{pick.place ?? 'No place written down'}</span>
          <span>
            <Code large>{pick.code}</Code>
            {pick.line && <span class="quiet"> {pick.line}</span>}
          </span>
          <PickWords pick={pick} />
        </span>
        {mayPack && (
          <span class="pick-tick">
            <input
              type="checkbox"
              id={tick.id}
              name={tick.name}
              value="yes"
              checked={tick.checked}
              aria-invalid={tick.error ? true : undefined}
            />
            <span>In the box</span>
          </span>
        )}
      </label>
      {pick.blocked && <Notice tone="harm">{pick.blocked}</Notice>}
      {pick.caution && <Notice tone="needs-you">{pick.caution}</Notice>}
      {tick.error && mayPack && (
        <p class="field-error">
          <Mark kind="harm" /> <span>{tick.error}</span>
        </p>
      )}
      {mayPack && <Extras pick={pick} form={form} />}
    </li>
  );
}

/** The pick list in shelf order: fetch, tick, and mark the order packed. */
export function PackPage({ furniture, order, picks, movement, form }: PackPageProps) {
  const path = `/orders/${order.number}`;
  const blocked = movement.blocks.length > 0 || picks.some((pick) => pick.blocked);
  return (
    <Shell
      furniture={furniture}
      title={`Pack order ${order.number}`}
      purpose={`Take these animals, then say what was packed. ${boxWords(order, furniture.locale)}.`}
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: path, label: `Order ${order.number}` },
      ]}
    >
      <ErrorSummary errors={form.errors} title="Not marked as packed yet:" />
      {order.note && (
        <Notice>
          <span class="keep-breaks">{order.note}</span>
        </Notice>
      )}
      <Findings furniture={furniture} {...movement} />
      <Form furniture={furniture} action={`${path}/pack`}>
        <ol class="picks">
          {picks.map((pick) => (
            <PickCard key={pick.key} pick={pick} form={form} mayPack={!blocked} />
          ))}
        </ol>
        {picks.length > 0 && <WorkedOut of="cups" so={sayPicks(picks, furniture.locale)} />}
        {blocked ? (
          <p>This order cannot be packed as it is. Tell the owner.</p>
        ) : (
          <Actions>
            <Button kind="main">Mark as packed</Button>
            <LinkButton href={`${path}/packing-sheet.pdf`}>Packing sheet</LinkButton>
            <LinkButton href={`${path}/care-sheets.pdf`}>Care sheets</LinkButton>
          </Actions>
        )}
      </Form>
    </Shell>
  );
}
