import { countryName } from '../../shared/settings/countries.ts';
import { type Language, languageNames } from '../../shared/settings/languages.ts';
import { LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type BusinessFacts = {
  name: string;
  address: string;
  email: string;
  country: string;
  timeZone: string;
  currency: string;
  units: 'metric' | 'us';
  paper: 'A4' | 'Letter';
  language: Language;
};

export type SettingsPageProps = { furniture: Furniture; business: BusinessFacts; numberSample: string };

const standing = [
  {
    href: '/places',
    label: 'Places',
    what: 'rooms, racks, shelves and positions, in the order of the round',
  },
  {
    href: '/enclosures',
    label: 'Enclosures',
    what: 'the tubs, jars and bins you keep, with their measures',
  },
  {
    href: '/label-sheets',
    label: 'Sheets of labels',
    what: 'the label papers you print the codes of your cultures on',
  },
] as const;

const working = [
  {
    href: '/settings/counting',
    label: 'Counting',
    what: 'the usual way of counting for each group of animals, and the minutes it takes',
  },
  {
    href: '/workings',
    label: 'How numbers are worked out',
    what: 'what goes in, the formula in words and its source, for each kind of number',
  },
  {
    href: '/settings/first-steps',
    label: 'First steps',
    what: 'from an empty page to the first packing sheet, and what comes after',
  },
] as const;

const sending = [
  {
    href: '/parcels/stock',
    label: 'Boxes and packs',
    what: 'what parcels travel in, how well it keeps warm, and how many are left',
  },
  {
    href: '/cups',
    label: 'Cups and padding',
    what: 'what animals travel in, how it is aired and padded, and what packing sheets say of it',
  },
  {
    href: '/parcels/carriers',
    label: 'Carriers and habits',
    what: 'by whom parcels go and on which days, whose weather counts where, how parcels are packed',
  },
  {
    href: '/parcels/weather',
    label: 'Weather on the way',
    what: 'lows and highs of the places parcels come through, and who forecasts them',
  },
  {
    href: '/movement',
    label: 'Movement rules',
    what: 'what may be sent where, on which permit, and what stops an order',
  },
  {
    href: '/settings/arrivals',
    label: 'Arrivals',
    what: 'until when customers may say how their animals arrived',
  },
  {
    href: '/parcels/arrivals',
    label: 'What arrivals teach',
    what: 'losses against the temperatures of the trips, by species and pack',
  },
] as const;

const selling = [
  {
    href: '/offers',
    label: 'Availability list',
    what: 'which of your spare animals everybody may read of, and the requests that come from there',
  },
  {
    href: '/settings/invoices',
    label: 'Invoices and taxes',
    what: 'numbers, taxes, ways of paying, and how long invoices and customers are kept',
  },
  {
    href: '/mails',
    label: 'Mails',
    what: 'what customers are written about their orders, and whether it went out',
  },
] as const;

const keeping = [
  {
    href: '/settings/backups',
    label: 'Backups',
    what: 'copies of everything, made every night and proven by restoring them',
  },
  {
    href: '/settings/readings',
    label: 'Readings of the air',
    what: 'how long single readings are kept; what each day came to stays',
  },
  {
    href: '/settings/changes',
    label: 'Record of changes',
    what: 'who changed what, and when; who looked at whose data',
  },
] as const;

const groups = [
  { title: 'Where the cultures stand', links: standing },
  { title: 'How work is done', links: working },
  { title: 'Selling', links: selling },
  { title: 'Sending', links: sending },
  { title: 'How the records are kept', links: keeping },
] as const;

export function SettingsPage({ furniture, business, numberSample }: SettingsPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Settings"
      purpose="How this business works: what stands here is the starting point of every page and paper."
      actions={
        <LinkButton href="/settings/business" kind="main">
          Change the business
        </LinkButton>
      }
    >
      <h2>The business</h2>
      <Facts
        items={[
          { term: 'Name', value: business.name },
          { term: 'Address', value: business.address.split('\n').join(', ') },
          { term: 'E-mail', value: business.email },
          { term: 'Country', value: countryName(business.country) },
          { term: 'Time zone', value: business.timeZone.replaceAll('_', ' ') },
          { term: 'Currency', value: business.currency },
          { term: 'Numbers and dates', value: numberSample },
          { term: 'Units', value: business.units === 'us' ? 'US' : 'Metric' },
          { term: 'Paper', value: business.paper },
          { term: 'New customers read', value: languageNames[business.language] },
        ]}
      />
      {groups.map(({ title, links }) => (
        <section key={title}>
          <h2>{title}</h2>
          {links.map(({ href, label, what }) => (
            <p key={href}>
              <a href={href}>{label}</a>: {what}
            </p>
          ))}
        </section>
      ))}
    </Shell>
  );
}
