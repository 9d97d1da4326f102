import type { ChoiceCurve, ChoicePlace } from '../../shared/parcels/choice.ts';
import type { DayOutlook } from '../../shared/parcels/packing-day-form.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { Form } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { CaseWorkedOut, Computed, WorkedOut } from '../layout/worked-out.tsx';
import { DayStrip, daysKey } from './part-day-strip.tsx';
import { TripCurve } from './part-trip-curve.tsx';
import { WeatherAge } from './part-weather-age.tsx';
import { type CardStand, caution, type MissingWords, standWords } from './say-packing.ts';

export type PackingCard = {
  number: number;
  customerName: string;
  goesTo: string;
  contents: readonly { groups: number; scientificName: string }[];
  stand: CardStand;
  /** What is to be done, in a sentence or two. */
  words: string;
  /** Why not sooner, or why not at all. */
  why: string | null;
  missing: MissingWords | null;
  days: readonly DayOutlook[];
  chosenDay: string | null;
  curve: ChoiceCurve | null;
  limits: ParcelLimits | null;
  finding: string;
  /** Why this day, this box and this pack, step by step. */
  so: readonly string[];
  /** The best option as a form's fields, where it can be taken. */
  take: Record<string, string> | null;
  warnings: readonly string[];
};

export type PackingDayPageProps = {
  furniture: Furniture;
  cards: readonly PackingCard[];
  places: readonly ChoicePlace[];
  staleHours: number;
  now: number;
  units: UnitSystem;
  mayDecide: boolean;
  /** More orders wait than are shown. */
  isCut: boolean;
  /** What is chosen for more parcels than there is in stock. */
  short: readonly string[];
};

function Contents({ contents }: Pick<PackingCard, 'contents'>) {
  return (
    <p class="packing-contents">
      {contents.map(({ groups, scientificName }, i) => (
        <span key={`${scientificName} ${i}`} class="cell-line">
          {formatCount(groups, 'group')} of <Latin>{scientificName}</Latin>
        </span>
      ))}
    </p>
  );
}

export function StandMark({ stand }: { stand: CardStand }) {
  const { word, tone } = standWords[stand];
  return (
    <strong class={`stand stand-${tone ?? 'plain'}`}>
      {tone && <Mark kind={tone} />} {word}
    </strong>
  );
}

function CardActions({
  card,
  furniture,
  mayDecide,
}: {
  card: PackingCard;
  furniture: Furniture;
  mayDecide: boolean;
}) {
  const { number, take, missing } = card;
  return (
    <div class="actions packing-actions">
      {mayDecide && take && (
        <PostButton
          furniture={furniture}
          action={`/parcels/orders/${number}/choose`}
          label="Take this"
          ariaLabel={`Take this for order ${number}`}
          fields={{ ...take, from: 'day' }}
          keyPart={`take-${number}`}
        />
      )}
      {missing && (
        <LinkButton href={missing.href} ariaLabel={`${missing.label}, for order ${number}`}>
          {missing.label}
        </LinkButton>
      )}
      <LinkButton
        href={`/parcels/orders/${number}`}
        kind="quiet"
        ariaLabel={`All options of order ${number}`}
      >
        All options
      </LinkButton>
    </div>
  );
}

function Card({ card, ...page }: { card: PackingCard } & PackingDayPageProps) {
  const { number, customerName, goesTo, stand, words, why, missing, curve, limits, finding } = card;
  const { locale } = page.furniture;
  return (
    <article class={`packing-card packing-${standWords[stand].tone ?? 'plain'}`} id={`order-${number}`}>
      <header class="packing-head">
        <h2>
          <a href={`/parcels/orders/${number}`}>Order {number}</a> for {customerName}
        </h2>
        <p class="quiet">{goesTo}</p>
        <Contents contents={card.contents} />
      </header>
      <div class="packing-words">
        <p>
          <StandMark stand={stand} /> <Computed of="parcel">{words}</Computed>
        </p>
        {why && (
          <p class="quiet">
            <Computed of="parcel">{why}</Computed>
          </p>
        )}
        {missing && <p>{missing.text}</p>}
        {card.warnings.map((warning) => (
          <p key={warning} class="packing-warning">
            <Mark kind="needs-you" /> {warning}
          </p>
        ))}
        <CardActions card={card} furniture={page.furniture} mayDecide={page.mayDecide} />
        <CaseWorkedOut of="parcel" label="Why so?" about={`Order ${number}`} so={card.so} />
      </div>
      {curve && limits && (
        <TripCurve curve={curve} limits={limits} units={page.units} finding={finding} size="card" />
      )}
      <DayStrip
        days={card.days}
        chosen={card.chosenDay}
        locale={locale}
        label={`The days ahead for order ${number}`}
      />
    </article>
  );
}

function TakeAll({ furniture, cards }: PackingDayPageProps) {
  const open = cards.filter(({ take }) => take !== null);
  if (open.length < 2) return null;
  return (
    <Form furniture={furniture} action="/parcels/packing/take-best" class="form-inline">
      {open.map(({ number, take }) => (
        <input key={number} type="hidden" name={`order-${number}`} value={take?.version ?? ''} />
      ))}
      <Button kind="main">Take the best for {open.length} orders</Button>
    </Form>
  );
}

/** All orders that wait to be packed, against the days ahead. */
export function PackingDayPage(props: PackingDayPageProps) {
  const { furniture, cards, places, now, staleHours, mayDecide, isCut, short } = props;
  return (
    <Shell
      furniture={furniture}
      title="Packing day"
      purpose="Which parcel leaves when, in what, and how warm it stays on its way."
      width="wide"
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
      actions={
        <>
          {mayDecide && <TakeAll {...props} />}
          <LinkButton href="/parcels/carriers">Carriers and habits</LinkButton>
          <LinkButton href="/parcels/weather">Weather</LinkButton>
          <LinkButton href="/parcels/stock">Boxes and packs</LinkButton>
        </>
      }
    >
      <p class="caution-line">{caution}</p>
      <WeatherAge places={places} now={now} staleHours={staleHours} />
      {short.length > 0 && (
        <Notice tone="needs-you" links={[{ href: '/parcels/stock', label: 'Boxes and packs' }]}>
          More is decided than is in stock: {short.join(', ')}.
        </Notice>
      )}
      {isCut && (
        <Notice>Only the first {cards.length} orders are worked out. Pack some, and the next come up.</Notice>
      )}
      {cards.length === 0 ? (
        <Empty
          title="No confirmed order waits to be packed."
          step={{ href: '/orders', label: 'Look at the orders' }}
        />
      ) : (
        <>
          <div class="packing-cards">
            {cards.map((card) => (
              <Card key={card.number} card={card} {...props} />
            ))}
          </div>
          <WorkedOut of={['parcel', 'box']} />
          <p class="quiet">
            Pictures: line inside the box, dashed outside, the grey band is what the most delicate animal
            bears. {daysKey}
          </p>
        </>
      )}
    </Shell>
  );
}
