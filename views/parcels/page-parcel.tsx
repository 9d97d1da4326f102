import type { ChoicePlace, ParcelChoice } from '../../shared/parcels/choice.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { Latin } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import type { FormState } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type PackingCard, StandMark } from './page-packing-day.tsx';
import { DayStrip, daysKey } from './part-day-strip.tsx';
import { Decided } from './part-decided.tsx';
import { LookedAt, type LookedAtProps } from './part-looked-at.tsx';
import { OptionsList, type OptionsListProps } from './part-options.tsx';
import { HoldForm, WayForm } from './part-parcel-forms.tsx';
import { isStale, placeWords } from './part-weather-age.tsx';
import { caution } from './say-packing.ts';
import { type ParcelReckoning, sayParcel } from './say-worked-out.ts';

export type ParcelPageProps = {
  furniture: Furniture;
  units: UnitSystem;
  currency: string;
  timeZone: string;
  now: number;
  staleHours: number;
  mayDecide: boolean;
  state: string;
  card: PackingCard;
  version: string;
  places: readonly ChoicePlace[];
  carrierName: string | null;
  placeBy: 'hand' | 'area' | null;
  limits: ParcelLimits | null;
  limitWords: string;
  contentsWords: string;
  /** What is looked at, by its figures: what keeps warm, and what heats or cools it. */
  reckoning: ParcelReckoning | null;
  choice: ParcelChoice | null;
  history: readonly (ParcelChoice & { endedAt: number | null })[];
  looked: Omit<LookedAtProps, 'furniture' | 'units' | 'number' | 'version' | 'mayDecide'> | null;
  options: Omit<OptionsListProps, 'furniture' | 'units' | 'currency' | 'number'> | null;
  notBefore: string | null;
  email: string;
  mayTell: boolean;
  holdForm: FormState;
  wayForm: FormState;
  carriers: readonly { id: number; name: string }[];
  weatherPlaces: readonly { id: number; name: string }[];
  /** The postcodes that a place picked by hand could count for from now on. */
  areaWords: string;
  today: string;
};

function Sources({ places, now, staleHours }: Pick<ParcelPageProps, 'places' | 'now' | 'staleHours'>) {
  return (
    <>
      {places.map((place) => (
        <span key={`${place.role} ${place.name}`} class="cell-line">
          {placeWords(place, now)}
          {isStale(place, now, staleHours) && <strong> (old)</strong>}
        </span>
      ))}
    </>
  );
}

function Summary(props: ParcelPageProps) {
  const { card, carrierName, places, placeBy, limitWords, contentsWords } = props;
  const destination = places.find(({ role }) => role === 'destination');
  return (
    <Facts
      items={[
        { term: 'Goes to', value: card.goesTo },
        {
          term: 'In it',
          computed: 'cups',
          value: card.contents.map(({ groups, scientificName }, i) => (
            <span key={`${scientificName} ${i}`} class="cell-line">
              {formatCount(groups, 'group')} of <Latin>{scientificName}</Latin>
            </span>
          )),
          note: contentsWords,
        },
        { term: 'They bear', value: limitWords },
        { term: 'Carrier', value: carrierName ?? 'none named yet' },
        {
          term: 'Weather',
          value: places.length > 0 ? <Sources {...props} /> : 'none yet',
          note: destination && placeBy === 'area' ? `${destination.name} by its postcode` : undefined,
        },
      ]}
    />
  );
}

/** How it stands with the parcel, and what is missing. */
function Standing({ card, state }: Pick<ParcelPageProps, 'card' | 'state'>) {
  const { number, missing } = card;
  const isOpen = state === 'confirmed';
  return (
    <>
      <p class="caution-line">{caution}</p>
      {isOpen ? (
        <p class="parcel-stand">
          <StandMark stand={card.stand} />{' '}
          <Computed of="parcel">
            {card.words} {card.why}
          </Computed>
        </p>
      ) : (
        <Notice>
          Order {number} is {state}: nothing is decided about its parcel now.
        </Notice>
      )}
      {missing && isOpen && (
        <Notice tone="needs-you" links={[{ href: missing.href, label: missing.label }]}>
          {missing.text}
        </Notice>
      )}
      {card.warnings.map((warning) => (
        <Notice key={warning} tone="needs-you">
          {warning}
        </Notice>
      ))}
    </>
  );
}

/** Everything about how one order travels: what is decided, what could be, and what could not. */
export function ParcelPage(props: ParcelPageProps) {
  const { furniture, card, choice, looked, options, mayDecide, state, units, version, currency } = props;
  const { number } = card;
  const isOpen = state === 'confirmed';
  return (
    <Shell
      furniture={furniture}
      title={`Parcel of order ${number}`}
      purpose={`For ${card.customerName}: the day, the box, the pack, and how warm it stays.`}
      width="wide"
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: '/parcels/packing', label: 'Packing day' },
        { href: `/orders/${number}`, label: `Order ${number}` },
      ]}
    >
      <Standing card={card} state={state} />
      <Summary {...props} />
      <DayStrip days={card.days} chosen={card.chosenDay} locale={furniture.locale} label="The days ahead" />
      {card.days.length > 0 && <p class="quiet">{daysKey}</p>}
      {choice && <Decided {...props} choice={choice} mayTakeBack={mayDecide && isOpen} />}
      {looked && (
        <LookedAt
          {...looked}
          furniture={furniture}
          units={units}
          number={number}
          version={version}
          mayDecide={mayDecide && isOpen}
        />
      )}
      {options && (
        <OptionsList {...options} furniture={furniture} units={units} currency={currency} number={number} />
      )}
      <WorkedOut
        of={['parcel', 'box', 'cups']}
        so={props.reckoning ? sayParcel(props.reckoning, furniture.locale) : []}
        here={[
          { term: 'They bear', value: props.limitWords },
          { term: 'In it', value: props.contentsWords },
          { term: 'Carrier', value: props.carrierName ?? 'none named yet' },
          props.places.length > 0 && { term: 'Weather', value: <Sources {...props} /> },
        ]}
      />
      {mayDecide && isOpen && (
        <>
          <HoldForm {...props} />
          <WayForm {...props} />
        </>
      )}
    </Shell>
  );
}
