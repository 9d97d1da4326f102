import type { OrderState } from '../../shared/orders/states.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Computed, type Step } from '../layout/worked-out.tsx';
import type { Speaker } from '../words/speaker.ts';
import { CustomerFrame } from './customer-frame.tsx';
import { HowKnown } from './part-known.tsx';
import { type ReportPart, ReportSection } from './part-report-form.tsx';

export type CustomerOrderProps = {
  speaker: Speaker;
  business: { name: string; address: string; email: string };
  order: {
    number: number;
    state: OrderState;
    dispatchOn: string | null;
    sentOn: string | null;
    tracking: string;
    trackingLink: string;
  };
  animals: readonly {
    scientificName: string;
    commonName: string;
    animals: number;
    /** Groups, and animals in each, where they come to that number. */
    groups: readonly { groups: number; each: number }[];
  }[];
  /** Its way as it was decided; null where it was not, or no longer holds. */
  way: {
    arrivesOn: string;
    isHeld: boolean;
    /** Null where somebody sends it although it was refused. */
    temps: { lowestC: number; highestC: number; safeLowC: number; safeHighC: number } | null;
  } | null;
  units: UnitSystem;
  /** The address of the page, under which its papers are too. */
  path: string;
  hasCareSheets: boolean;
  report: ReportPart;
  assetVersion: string;
  /** While nothing can be saved. */
  paused: boolean;
};

function stateWords({ speaker, order }: CustomerOrderProps): string {
  const { state, sentOn } = order;
  const day = sentOn ? speaker.day(sentOn) : '';
  if (state === 'sent' && sentOn) return speaker.say('page.sent', { day });
  if (state === 'closed' && sentOn) return speaker.say('page.closed', { day });
  if (state === 'sent' || state === 'closed') return speaker.say('page.packed');
  return speaker.say(`page.${state}`);
}

const arriving = ({ order, way }: CustomerOrderProps) =>
  way !== null && (order.state === 'confirmed' || order.state === 'packed' || order.state === 'sent')
    ? way
    : null;

function State(props: CustomerOrderProps) {
  const { speaker, order } = props;
  const { state, dispatchOn, tracking, trackingLink } = order;
  const isLeaving = (state === 'confirmed' || state === 'packed') && dispatchOn !== null;
  const hasLeft = state === 'sent' || state === 'closed';
  const way = arriving(props);
  return (
    <section class="customer-state">
      <p class="customer-now">{stateWords(props)}</p>
      {isLeaving && <p>{speaker.say('page.leaves', { day: speaker.day(dispatchOn) })}</p>}
      {way && (
        <p data-computed="parcel">
          {speaker.say(way.isHeld ? 'known.counter' : 'known.arrives', { day: speaker.day(way.arrivesOn) })}
        </p>
      )}
      {isLeaving && <p>{speaker.say('mail.beThere')}</p>}
      {hasLeft && tracking && (
        <p>
          {speaker.say('page.tracking')}: <span class="customer-number">{tracking}</span>
        </p>
      )}
      {hasLeft && trackingLink && (
        <p>
          <a href={trackingLink} rel="noreferrer">
            {speaker.say('page.follow')}
          </a>
        </p>
      )}
    </section>
  );
}

function Animals({ speaker, animals }: CustomerOrderProps) {
  return (
    <>
      <h2>{speaker.say('arrival.inTheBox')}</h2>
      <ul class="customer-animals">
        {animals.map((one) => (
          <li key={one.scientificName}>
            {one.commonName && `${one.commonName}, `}
            <Latin>{one.scientificName}</Latin>:{' '}
            <Computed of="cups">{speaker.counted('counts.animals', one.animals)}</Computed>
          </li>
        ))}
      </ul>
    </>
  );
}

/** `Exemplum: 2 × 14 = 28.` */
function sayAnimals(
  { speaker }: CustomerOrderProps,
  one: CustomerOrderProps['animals'][number],
): Step | null {
  if (one.groups.length === 0) return null;
  const sum = one.groups.map(({ groups, each }) => `${speaker.number(groups)} × ${speaker.number(each)}`);
  return [one.scientificName, `: ${sum.join(' + ')} = ${speaker.number(one.animals)}.`];
}

/** Whence day, arrival, temperature, number of animals and the last day of reports are known. */
function Known(props: CustomerOrderProps) {
  const { speaker, order, animals, units, report } = props;
  const { state, dispatchOn, sentOn } = order;
  const way = arriving(props);
  const temps = way?.temps ?? null;
  // In tenths: rounded to whole degrees it could seem to leave what they bear, or to stay in it.
  const range = (lowC: number, highC: number) => {
    const [low = '', high = ''] = [lowC, highC].map((tempC) => exactTemp(tempC, units, speaker.locale));
    return speaker.say('units.range', { low, high });
  };
  const isLeaving = (state === 'confirmed' || state === 'packed') && dispatchOn !== null;
  const { waits } = report;
  return (
    <HowKnown
      speaker={speaker}
      of={way ? ['parcel', 'cups'] : ['cups']}
      lines={[
        isLeaving && speaker.say('known.dayChosen'),
        way && speaker.say('known.arrival'),
        temps &&
          speaker.say('known.inside', {
            inside: range(temps.lowestC, temps.highestC),
            borne: range(temps.safeLowC, temps.safeHighC),
          }),
        ...(animals.length > 0 ? [speaker.say('known.animals')] : []),
        ...animals.map((one) => sayAnimals(props, one)),
        sentOn &&
          waits &&
          speaker.say('known.until', {
            sent: speaker.day(sentOn),
            onWay: speaker.counted('known.days', waits.onWay),
            more: speaker.counted('known.days', waits.more),
          }),
      ]}
    />
  );
}

const steps = [
  ['arrival.unpack', 'arrival.unpackWords'],
  ['arrival.settle', 'arrival.settleWords'],
  ['arrival.water', 'arrival.waterWords'],
  ['arrival.worry', 'arrival.worryWords'],
] as const;

function Arrival({ speaker }: CustomerOrderProps) {
  return (
    <>
      <h2>{speaker.say('arrival.title')}</h2>
      <ol class="customer-steps">
        {steps.map(([head, words]) => (
          <li key={head}>
            <strong>{speaker.say(head)}.</strong> {speaker.say(words)}
          </li>
        ))}
      </ol>
    </>
  );
}

function Cautions({ speaker }: CustomerOrderProps) {
  return (
    <>
      <h2>{speaker.say('page.cautions')}</h2>
      <ul>
        <li>{speaker.say('care.noRelease')}</li>
        <li>{speaker.say('care.wash')}</li>
        <li>{speaker.say('care.law')}</li>
      </ul>
    </>
  );
}

function Contact({ speaker, business }: CustomerOrderProps) {
  return (
    <>
      <h2>{speaker.say('page.contact')}</h2>
      <address class="customer-contact">
        {[business.name, ...business.address.split('\n')].filter(Boolean).map((line, index) => (
          <span key={index} class="address-line">
            {line}
          </span>
        ))}
        {business.email && (
          <a href={`mailto:${business.email.split('@').map(encodeURIComponent).join('@')}`}>
            {business.email}
          </a>
        )}
      </address>
    </>
  );
}

/** An order as its customer sees it, at an address that needs no account. */
export function CustomerOrderPage(props: CustomerOrderProps) {
  const { speaker, business, order, path, hasCareSheets, assetVersion } = props;
  const goes = order.state !== 'cancelled';
  return (
    <CustomerFrame
      language={speaker.language}
      businessName={business.name}
      title={speaker.say('page.title', { number: String(order.number) })}
      purpose={speaker.say('page.from', { business: business.name })}
      assetVersion={assetVersion}
      notice={props.paused ? speaker.say('page.pausedSoon') : null}
    >
      <State {...props} />
      {goes && <ReportSection speaker={speaker} path={path} {...props.report} />}
      {goes && <Arrival {...props} />}
      {goes && props.animals.length > 0 && <Animals {...props} />}
      {goes && <Known {...props} />}
      {goes && hasCareSheets && (
        <section class="customer-care">
          <LinkButton href={`${path}/care-sheets.pdf`}>{speaker.say('page.careSheets')}</LinkButton>
          <p>{speaker.say('page.readBefore')}</p>
        </section>
      )}
      {goes && <Cautions {...props} />}
      <Contact {...props} />
    </CustomerFrame>
  );
}
