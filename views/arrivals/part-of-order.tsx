import type { AmendsKind } from '../../shared/arrivals/amends-form.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import { Actions, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Moment, Money } from '../layout/number.tsx';

export type ReportView = {
  id: number;
  allWell: boolean;
  madeAt: number;
  writtenBy: string | null;
  seenAt: number | null;
  note: string;
  losses: readonly { scientificName: string; sent: number; dead: number; missing: number }[];
  photos: readonly { id: number; widthPx: number; heightPx: number }[];
};

export type ArrivalPartProps = {
  furniture: Furniture;
  order: { number: number; state: OrderState; currency: string };
  /** The address of the customer's page; null while it has none that opens anything. */
  address: string | null;
  expiresAt: number | null;
  /** The latest first. */
  reports: readonly ReportView[];
  amends: readonly {
    id: number;
    kind: AmendsKind;
    amountMinor: number | null;
    newOrder: number | null;
    reason: string;
    by: string | null;
    madeAt: number;
  }[];
  timeZone: string;
};

const lossWords = ({ dead, missing, sent }: ReportView['losses'][number]) =>
  `${[dead > 0 && `${dead} dead`, missing > 0 && `${missing} missing`].filter(Boolean).join(', ')} of ${sent}`;

function Photos({ number, photos }: { number: number; photos: ReportView['photos'] }) {
  if (photos.length === 0) return null;
  return (
    <div class="arrival-photos">
      {photos.map((photo, index) => {
        const href = `/orders/${number}/arrival/photos/${photo.id}`;
        return (
          <a key={photo.id} href={href}>
            <img
              src={href}
              width={photo.widthPx}
              height={photo.heightPx}
              alt={`What arrived, ${index + 1} of ${photos.length}`}
              loading="lazy"
            />
          </a>
        );
      })}
    </div>
  );
}

function OneReport({ report, props }: { report: ReportView; props: ArrivalPartProps }) {
  const { furniture, order, timeZone } = props;
  return (
    <div class="arrival-report">
      <p>
        {!report.allWell && <Mark kind="harm" />} <strong>{report.allWell ? 'All well' : 'Losses'}</strong>,
        said on <Moment at={report.madeAt} timeZone={timeZone} locale={furniture.locale} />
        {report.writtenBy && `, written down by ${report.writtenBy}`}
      </p>
      {report.losses.length > 0 && (
        <ul>
          {report.losses.map((loss) => (
            <li key={loss.scientificName}>
              <Latin>{loss.scientificName}</Latin>: {lossWords(loss)}
            </li>
          ))}
        </ul>
      )}
      {report.note && <p class="keep-breaks">{report.note}</p>}
      <Photos number={order.number} photos={report.photos} />
    </div>
  );
}

const WriteTold = ({ number, isFirst }: { number: number; isFirst: boolean }) => (
  <Actions>
    <LinkButton href={`/orders/${number}/arrival/told`}>
      {isFirst ? 'Write down what the customer told you' : 'The customer told you otherwise'}
    </LinkButton>
    <LinkButton href="/parcels/arrivals" kind="quiet">
      What arrivals teach
    </LinkButton>
  </Actions>
);

function Reports(props: ArrivalPartProps) {
  const { furniture, order, reports } = props;
  const [latest, ...before] = reports;
  return (
    <section id="arrival">
      <h2>How they arrived</h2>
      {latest ? (
        <OneReport report={latest} props={props} />
      ) : (
        <p>Nothing was said yet. Customers say it on their page of the order; some call instead.</p>
      )}
      {before.length > 0 && (
        <details>
          <summary>What was said before</summary>
          {before.map((report) => (
            <OneReport key={report.id} report={report} props={props} />
          ))}
        </details>
      )}
      {reports.some(({ seenAt }) => seenAt === null) && (
        <Actions>
          <PostButton
            furniture={furniture}
            action={`/orders/${order.number}/arrival/seen`}
            label="I have seen it"
          />
        </Actions>
      )}
      <WriteTold number={order.number} isFirst={!latest} />
    </section>
  );
}

const amendsWords: Record<AmendsKind, string> = { refund: 'Refund', credit: 'Credit', reship: 'Sent again' };

function Amends({ furniture, order, amends, timeZone }: ArrivalPartProps) {
  const path = `/orders/${order.number}/amends`;
  const { locale } = furniture;
  return (
    <section id="amends">
      <h2>Refund, credit, sent again</h2>
      {amends.map((one) => (
        <div key={one.id} class="arrival-amends">
          <p>
            <strong>{amendsWords[one.kind]}</strong>{' '}
            {one.amountMinor !== null && (
              <Money minor={one.amountMinor} currency={order.currency} locale={locale} />
            )}
            {one.newOrder !== null && <a href={`/orders/${one.newOrder}`}>as order {one.newOrder}</a>}:{' '}
            {one.reason}
            <span class="under">
              {one.by ?? 'somebody'}, <Moment at={one.madeAt} timeZone={timeZone} locale={locale} />
            </span>
          </p>
          <PostButton
            furniture={furniture}
            action={`${path}/${one.id}/end`}
            label="Take it back"
            kind="quiet"
            keyPart={`amends-${one.id}`}
          />
        </div>
      ))}
      <Actions>
        <LinkButton href={path}>Write down what you do about a loss</LinkButton>
      </Actions>
    </section>
  );
}

function Address({ furniture, order, address, expiresAt, timeZone }: ArrivalPartProps) {
  const path = `/orders/${order.number}/link`;
  return (
    <section id="customer-page">
      <h2>The customer’s page</h2>
      {address ? (
        <>
          <Field
            label="Its address"
            name="address"
            value={address}
            size="long"
            readOnly
            help="Whoever has it sees how this order stands and can say how the animals arrived. It is in the code on the arrival card."
          />
          {expiresAt !== null && (
            <p class="quiet">
              It opens until <Moment at={expiresAt} timeZone={timeZone} locale={furniture.locale} />.
            </p>
          )}
          <Actions>
            <LinkButton href={address}>Look at it</LinkButton>
            <PostButton furniture={furniture} action={path} label="Make a new address" keyPart="renew" />
            <PostButton
              furniture={furniture}
              action={`${path}/end`}
              label="Close it"
              kind="quiet"
              keyPart="end"
            />
          </Actions>
          <p class="quiet">A new address stops the one before, also on cards that are printed already.</p>
        </>
      ) : (
        <>
          <p>
            {expiresAt === null
              ? 'It has no address now. An order gets one when it is confirmed.'
              : 'Its address has run out.'}
          </p>
          <Actions>
            <PostButton furniture={furniture} action={path} label="Make an address" keyPart="renew" />
          </Actions>
        </>
      )}
    </section>
  );
}

const hasPage = ({ order }: ArrivalPartProps) => order.state !== 'draft' && order.state !== 'cancelled';

/** Under an order: what its customer said of the arrival, and what was done about it. */
export function ArrivalPart(props: ArrivalPartProps) {
  const { state } = props.order;
  const hasLeft = state === 'sent' || state === 'closed';
  return (
    <>
      {(hasLeft || props.reports.length > 0) && <Reports {...props} />}
      {(hasLeft || props.amends.length > 0) && <Amends {...props} />}
    </>
  );
}

/** Beside an order: the address that its customer can open. */
export function CustomerAddress(props: ArrivalPartProps) {
  return hasPage(props) ? <Address {...props} /> : null;
}
