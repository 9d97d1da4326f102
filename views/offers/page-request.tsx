import { addressLines } from '../../shared/customers/address.ts';
import { type Language, languageNames } from '../../shared/settings/languages.ts';
import { Actions, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment, Money } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { requestStates } from './page-requests.tsx';

export type RequestPageProps = {
  furniture: Furniture;
  request: {
    id: number;
    state: 'new' | 'taken' | 'refused';
    name: string;
    email: string;
    street: string;
    postcode: string;
    city: string;
    region: string;
    country: string;
    language: Language;
    note: string;
    currency: string;
    madeAt: number;
  };
  lines: readonly {
    speciesId: number;
    groups: number;
    priceMinor: number;
    scientificName: string;
    /** What could be spared now, in whole groups. */
    spare: number;
  }[];
  /** Customers who may be the same person. */
  alike: readonly { id: number; name: string; email: string; city: string }[];
  timeZone: string;
};

function Person({ request, furniture, timeZone }: RequestPageProps) {
  const { id, name, email, note } = request;
  return (
    <Facts
      items={[
        { term: 'Name', value: name || `erased (request ${id})` },
        { term: 'E-mail', value: email && <a href={`mailto:${encodeURIComponent(email)}`}>{email}</a> },
        {
          term: 'Address',
          value: addressLines(request).map((line) => (
            <span key={line} class="address-line">
              {line}
            </span>
          )),
        },
        { term: 'Language', value: languageNames[request.language] },
        { term: 'Note', value: note && <span class="keep-breaks">{note}</span> },
        {
          term: 'Written',
          value: <Moment at={request.madeAt} timeZone={timeZone} locale={furniture.locale} />,
        },
        { term: 'State', value: requestStates[request.state] },
      ]}
    />
  );
}

function Lines({ lines, request, furniture }: RequestPageProps) {
  return (
    <DataTable
      caption="Asked for"
      rows={lines}
      rowKey={({ speciesId }) => speciesId}
      columns={[
        {
          key: 'species',
          head: 'Species',
          rowHeader: true,
          cell: ({ scientificName }) => <Latin>{scientificName}</Latin>,
        },
        { key: 'groups', head: 'Groups', numeric: true, cell: ({ groups }) => groups },
        {
          key: 'price',
          head: 'Price then',
          numeric: true,
          cell: ({ priceMinor }) => (
            <Money minor={priceMinor} currency={request.currency} locale={furniture.locale} />
          ),
        },
        {
          key: 'spare',
          head: 'Spare now',
          computed: 'surplus',
          numeric: true,
          cell: ({ groups, spare }) => (groups > spare ? `${spare}, too few` : spare),
        },
      ]}
      rowTone={({ groups, spare }) => (groups > spare ? 'needs-you' : undefined)}
    />
  );
}

function Decide({ furniture, request, alike }: RequestPageProps) {
  if (request.state !== 'new') return null;
  const path = `/requests/${request.id}`;
  return (
    <section>
      <h2>Take it</h2>
      <p>It becomes a draft order. Nothing is reserved and no mail goes out until you confirm that order.</p>
      {alike.map(({ id, name, email, city }) => (
        <p key={id}>
          Looks like the customer <a href={`/customers/${id}`}>{name}</a>
          {[email, city].filter(Boolean).length > 0 && ` (${[email, city].filter(Boolean).join(', ')})`}.
        </p>
      ))}
      <Actions>
        {alike.map(({ id, name }) => (
          <PostButton
            key={id}
            furniture={furniture}
            action={`${path}/take`}
            fields={{ customer: id }}
            label={`Take it for ${name}`}
            kind="main"
            keyPart={`customer-${id}`}
          />
        ))}
        <PostButton
          furniture={furniture}
          action={`${path}/take`}
          label="Take it for a new customer"
          kind={alike.length === 0 ? 'main' : 'plain'}
          keyPart="new"
        />
        <PostButton furniture={furniture} action={`${path}/refuse`} label="Refuse" kind="quiet" />
      </Actions>
    </section>
  );
}

/** One request: who asks for what, and what becomes of it. */
export function RequestPage(props: RequestPageProps) {
  const { furniture, request } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Request ${request.id}`}
      purpose="What somebody wrote on the public list. Nobody has checked who they are."
      breadcrumbs={[{ href: '/requests', label: 'Requests' }]}
    >
      <Person {...props} />
      <Lines {...props} />
      <WorkedOut of="surplus" />
      <Decide {...props} />
      {request.name !== '' && request.state !== 'new' && (
        <PostButton
          furniture={furniture}
          action={`/requests/${request.id}/forget`}
          label="Erase who wrote it"
          kind="quiet"
          keyPart="forget"
        />
      )}
    </Shell>
  );
}
