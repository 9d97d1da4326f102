import type { ComponentChildren } from 'preact';
import { type OrderState, stateWords } from '../../shared/orders/states.ts';
import { countryName } from '../../shared/settings/countries.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { Day } from '../layout/number.tsx';

export type FoundProps = {
  typed: string;
  mostOfKind: number;
  isOwner: boolean;
  locale: string | undefined;
  cultures: readonly {
    code: string;
    scientificName: string;
    morph: string;
    status: 'active' | 'quarantine' | 'retired';
    place: string | null;
  }[];
  species: readonly { id: number; scientificName: string; commonName: string }[];
  orders: readonly { number: number; state: OrderState; dispatchOn: string | null; customerName: string }[];
  invoices: readonly { id: number; number: string; kind: 'invoice' | 'credit'; issuedOn: string }[];
  customers: readonly { id: number; name: string; postcode: string; city: string; country: string }[];
};

type KindProps<T> = {
  title: string;
  id: string;
  rows: readonly T[];
  most: number;
  /** The list of that kind, with what was typed. */
  allHref: string;
  children: (row: T) => ComponentChildren;
};

function Kind<T>({ title, id, rows, most, allHref, children }: KindProps<T>) {
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby={`found-${id}`}>
      <h2 id={`found-${id}`}>{title}</h2>
      <ul class="found">{rows.slice(0, most).map((row) => children(row))}</ul>
      {rows.length > most && (
        <p>
          There are more. <a href={allHref}>Look through all of them</a>
        </p>
      )}
    </section>
  );
}

const dot = ' · ';
const statusWords = { active: '', quarantine: 'in quarantine', retired: 'retired' } as const;

function Cultures({ cultures, mostOfKind, typed }: FoundProps) {
  const allHref = `/cultures?q=${encodeURIComponent(typed)}`;
  return (
    <Kind title="Cultures" id="cultures" rows={cultures} most={mostOfKind} allHref={allHref}>
      {(row) => (
        <li key={row.code}>
          <Code href={cultureHref(row.code)}>{row.code}</Code> <Latin>{row.scientificName}</Latin>
          {row.morph && ` ${row.morph}`}
          <span class="under">
            {[row.place ?? 'no place', statusWords[row.status]].filter(Boolean).join(dot)}
          </span>
        </li>
      )}
    </Kind>
  );
}

function Species({ species, mostOfKind }: FoundProps) {
  return (
    <Kind title="Species" id="species" rows={species} most={mostOfKind} allHref="/species">
      {(row) => (
        <li key={row.id}>
          <a href={`/species/${row.id}`}>
            <Latin>{row.scientificName}</Latin>
          </a>
          {row.commonName && <span class="under">{row.commonName}</span>}
        </li>
      )}
    </Kind>
  );
}

function Orders({ orders, mostOfKind, typed, locale }: FoundProps) {
  const allHref = `/orders?words=${encodeURIComponent(typed)}`;
  return (
    <Kind title="Orders" id="orders" rows={orders} most={mostOfKind} allHref={allHref}>
      {(row) => (
        <li key={row.number}>
          <a href={`/orders/${row.number}`}>Order {row.number}</a>, {row.customerName}
          <span class="under">
            {stateWords[row.state]}
            {row.dispatchOn && (
              <>
                {dot}leaves <Day iso={row.dispatchOn} locale={locale} />
              </>
            )}
          </span>
        </li>
      )}
    </Kind>
  );
}

function Invoices({ invoices, mostOfKind, locale }: FoundProps) {
  return (
    <Kind title="Invoices" id="invoices" rows={invoices} most={mostOfKind} allHref="/invoices">
      {(row) => (
        <li key={row.id}>
          <a href={`/invoices/${row.id}`}>
            {row.kind === 'credit' ? 'Credit note' : 'Invoice'} {row.number}
          </a>
          <span class="under">
            <Day iso={row.issuedOn} locale={locale} />
          </span>
        </li>
      )}
    </Kind>
  );
}

function Customers({ customers, mostOfKind, typed }: FoundProps) {
  const allHref = `/customers?words=${encodeURIComponent(typed)}`;
  return (
    <Kind title="Customers" id="customers" rows={customers} most={mostOfKind} allHref={allHref}>
      {(row) => (
        <li key={row.id}>
          <a href={`/customers/${row.id}`}>{row.name}</a>
          <span class="under">
            {[`${row.postcode} ${row.city}`.trim(), countryName(row.country)].filter(Boolean).join(', ')}
          </span>
        </li>
      )}
    </Kind>
  );
}

const whatIsFound = (isOwner: boolean) =>
  isOwner
    ? 'Codes, species, morphs, notes and places of cultures; numbers of orders and invoices; names, addresses and mail of customers.'
    : 'Codes, species, morphs, notes and places of cultures; numbers of orders and names of their customers.';

/** What was found, by kind. */
export function Found(props: FoundProps) {
  const { typed, isOwner } = props;
  const isEmpty = [props.cultures, props.species, props.orders, props.invoices, props.customers].every(
    ({ length }) => length === 0,
  );
  return (
    <div id="found">
      {typed === '' && <p class="quiet">{whatIsFound(isOwner)}</p>}
      {typed !== '' && isEmpty && (
        <Empty title={`Nothing has words that begin with “${typed}”.`}>
          <p>{whatIsFound(isOwner)}</p>
        </Empty>
      )}
      <Cultures {...props} />
      <Species {...props} />
      <Orders {...props} />
      <Invoices {...props} />
      <Customers {...props} />
    </div>
  );
}
