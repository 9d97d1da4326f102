import type { Back, TraceFilter, Trouble } from '../../shared/traces/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { CultureHeading } from '../cultures/part-about.tsx';
import { LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { ErrorSummary, Field, type FormState, fieldOf, SelectField } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type TracedRowData, TracedTable } from './part-cultures.tsx';
import { MissingContact, type MissingContactProps } from './part-missing-contact.tsx';
import { type TracedOrderData, TracedOrders } from './part-orders.tsx';
import { WaysPicture } from './part-picture.tsx';
import { QuarantineForm, type QuarantineFormProps } from './part-quarantine.tsx';
import type { PictureNode } from './picture-plan.ts';
import { traceHref, troubleSeen, troubleWords } from './say.ts';
import { sayTrace } from './say-worked-out.ts';

/** What a trace found. */
export type Found = {
  own: TracedRowData;
  downstream: readonly TracedRowData[];
  upstream: readonly TracedRowData[];
  /** How many there are in all; a very long list shows the first of them. */
  reached: number;
  sources: number;
  orders: readonly TracedOrderData[];
  picture: readonly PictureNode[];
};

export type TracePageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  /** What is asked for, with every open question answered. */
  asked: TraceFilter & { what: Trouble; since: string; seen: string };
  /** What the diary tells of it: first seen, and last not. */
  noted: { seenOn: string | null; clearOn: string | null };
  filter: FormState;
  /** Null where what was asked for is wrong, or too much. */
  found: Found | null;
  fault: string | null;
  /** Null for whoever may look but not decide. */
  quarantine: Pick<QuarantineFormProps, 'form' | 'chosen' | 'reservations'> | null;
  contacts: Pick<MissingContactProps, 'written' | 'form'>;
  today: string;
};

const backWords: Record<Back, string> = {
  '30': '30 days before',
  '90': '90 days before',
  '365': 'a year before',
  all: 'as far as is written down',
};

const labels = {
  what: 'What was found',
  seen: 'Seen on',
  since: 'Taken to be there since',
  back: 'Looked back',
};

function Filters({
  code,
  filter,
  asked,
  today,
}: Pick<TracePageProps, 'code' | 'filter' | 'asked' | 'today'>) {
  return (
    <>
      <ErrorSummary errors={filter.errors} labels={labels} title="Nothing is traced yet. What to mend:" />
      <FilterBar action={traceHref(code)} label="What to trace" submit="Trace" keep={{ sort: asked.sort }}>
        <SelectField
          label={labels.what}
          options={Object.entries(troubleWords).map(([value, label]) => ({ value, label }))}
          {...fieldOf(filter, 'what')}
        />
        <Field label={labels.seen} type="date" max={today} {...fieldOf(filter, 'seen')} />
        <Field label={labels.since} type="date" max={today} {...fieldOf(filter, 'since')} />
        <SelectField
          label={labels.back}
          options={Object.entries(backWords).map(([value, label]) => ({ value, label }))}
          {...fieldOf(filter, 'back')}
        />
      </FilterBar>
    </>
  );
}

/** What the days above stand on. */
function Noted({ asked, noted, furniture }: Pick<TracePageProps, 'asked' | 'noted' | 'furniture'>) {
  const day = (iso: string) => formatDay(iso, furniture.locale);
  if (noted.seenOn === null)
    return (
      <p class="quiet">
        {asked.what === 'wrong species'
          ? 'The diary has no word for a wrong species: say above when it was seen.'
          : `The diary does not say that ${troubleSeen[asked.what]} here: without a day it is taken as seen today.`}
        {noted.clearOn && ` The last check before today was on ${day(noted.clearOn)}.`}
      </p>
    );
  const clear = noted.clearOn
    ? `the check of ${day(noted.clearOn)} was still clear.`
    : 'no check before that was clear, so it is taken from the day of the founding.';
  return (
    <p class="quiet">
      By the diary {troubleSeen[asked.what]} first on {day(noted.seenOn)}; {clear}
    </p>
  );
}

function Verdict({
  code,
  asked,
  found,
  furniture,
}: Pick<TracePageProps, 'code' | 'asked' | 'furniture'> & { found: Found }) {
  const since = formatDay(asked.since, furniture.locale);
  const isNothing = found.reached === 0 && found.orders.length === 0;
  const cultures = formatCount(found.reached, 'culture', undefined, furniture.locale);
  const orders = found.orders.length === 0 ? 'no order' : formatCount(found.orders.length, 'order');
  return (
    <p data-computed="trace" class="verdict">
      {isNothing
        ? 'As far as is written down, nothing has gone to another culture or an order from'
        : `${cultures} and ${orders} can have got it from`}{' '}
      <span class="nowrap">{code}</span> since {since}.
    </p>
  );
}

function Orders({ code, asked, found, furniture, today }: TracePageProps & { found: Found }) {
  if (found.orders.length === 0) return null;
  return (
    <section class="not-on-list" aria-labelledby="orders-title">
      <h2 id="orders-title">Orders that got animals</h2>
      <TracedOrders rows={found.orders} today={today} locale={furniture.locale} />
      {furniture.who?.role === 'owner' && (
        <p>
          <LinkButton href={traceHref(code, asked, '/notices')}>
            Prepare notices to these customers
          </LinkButton>
        </p>
      )}
    </section>
  );
}

function OtherOrder({ code, asked }: Pick<TracePageProps, 'code' | 'asked'>) {
  const other = asked.sort === 'day' ? 'place' : 'day';
  return (
    <p class="quiet not-on-list">
      {asked.sort === 'day' ? 'By day. ' : 'In the order you walk past them. '}
      <a href={traceHref(code, { ...asked, sort: other })}>
        {other === 'day' ? 'Order by day' : 'In walking order'}
      </a>
      . On paper this page is the list alone, with a box to tick for each culture.
    </p>
  );
}

function NotListed({ more, locale }: { more: number; locale?: string }) {
  if (more === 0) return null;
  return (
    <p>{formatCount(more, 'more is', 'more are', locale)} not listed here. A later day makes it fewer.</p>
  );
}

function Tables(props: TracePageProps & { found: Found }) {
  const { code, asked, found, quarantine, today, furniture } = props;
  const common = {
    own: { code, words: `Where ${troubleSeen[asked.what]}` },
    chosen: quarantine?.chosen ?? null,
    today,
    locale: furniture.locale,
  };
  return (
    <>
      <section aria-labelledby="gone-title">
        <h2 id="gone-title">Where it can have gone</h2>
        <OtherOrder {...props} />
        <TracedTable
          {...common}
          caption="Cultures that can have been reached"
          dayHead="First on"
          rows={[found.own, ...found.downstream]}
        />
        <NotListed more={found.reached - found.downstream.length} locale={furniture.locale} />
      </section>
      <section aria-labelledby="come-title">
        <h2 id="come-title">Where it can have come from</h2>
        {found.upstream.length === 0 ? (
          <p>No culture had contact with {code} in that time, as far as is written down.</p>
        ) : (
          <TracedTable
            {...common}
            caption="Cultures that can have passed it on"
            dayHead="Last on"
            rows={found.upstream}
          />
        )}
        <NotListed more={found.sources - found.upstream.length} locale={furniture.locale} />
      </section>
    </>
  );
}

function HowTraced(props: TracePageProps) {
  return (
    <WorkedOut of="trace" so={sayTrace(props, props.furniture.locale)}>
      <p>
        A contact is a split, old substrate moved along, animals put in, feeders given, or a tool that was not
        cleaned in between. From the day on which it is taken to be there, each contact can carry it on, and
        from there again, forward in time only; the day itself counts. Shown is the first day on which each
        culture can have been reached, by the fewest contacts. Where it can have come from is the same
        backward, from the day on which it was seen.
      </p>
      <p>
        It can have gone this way, it need not have: look at each of them. Contacts that nobody wrote down are
        not here; neighbours on a shelf and hands are worth a look too.
      </p>
    </WorkedOut>
  );
}

/** Who had contact with a culture in which something was found, and what to do about it. */
export function TracePage(props: TracePageProps) {
  const { furniture, code, found, fault, quarantine, today } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title={`Who had contact with ${code}`}
      heading={<CultureHeading code={code}>Who had contact with</CultureHeading>}
      purpose={
        <>
          <Latin>{props.scientificName}</Latin>
          {props.place && `, ${props.place}`}
          <span class="on-paper">, as of {formatDay(today, locale)}</span>: where mites or mould may have come
          from, and gone to.
        </>
      }
      width="wide"
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: cultureHref(code), label: code },
      ]}
    >
      <Filters {...props} />
      <Noted {...props} />
      {fault && <Notice tone="needs-you">{fault}</Notice>}
      {found && (
        <>
          <Verdict {...props} found={found} />
          {found.picture.length > 0 && (
            <WaysPicture start={code} nodes={found.picture} today={today} locale={locale} />
          )}
          {quarantine ? (
            <QuarantineForm
              {...props}
              {...quarantine}
              listed={found.downstream}
              notListed={found.reached - found.downstream.length}
            >
              <Tables {...props} found={found} />
            </QuarantineForm>
          ) : (
            <Tables {...props} found={found} />
          )}
          <Orders {...props} found={found} />
        </>
      )}
      <MissingContact {...props} {...props.contacts} />
      <HowTraced {...props} />
    </Shell>
  );
}
