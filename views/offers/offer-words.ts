import type { Offer } from '../../shared/offers/offer.ts';
import type { Speaker } from '../words/speaker.ts';

/** What a group is made of: '10 adults, 2 juveniles'. */
export const groupWords = (say: Speaker, { adults, juveniles }: Offer): string =>
  [
    adults > 0 ? say.counted('offers.adults', adults) : '',
    juveniles > 0 ? say.counted('offers.juveniles', juveniles) : '',
  ]
    .filter(Boolean)
    .join(', ');

/** How many are spare now, or when the next are likely ready. */
export function spareWords(say: Speaker, { spare, ready }: Offer): string {
  if (spare.kind === 'some') return say.counted('offers.groups', spare.groups);
  if (spare.kind === 'more') return say.counted('offers.moreThan', spare.than);
  if (ready === null) return say.say('offers.notNow');
  const [from, to] = [say.day(ready.from, 'short'), say.day(ready.to, 'short')];
  return `${say.say('offers.notNow')}, ${say.say('offers.ready', { from, to })}`;
}

/** The list as plain text, to be pasted into a letter or a forum. */
export function offerText(
  say: Speaker,
  {
    offers,
    currency,
    business,
    today,
  }: { offers: readonly Offer[]; currency: string; business: string; today: string },
): string {
  const lines = offers.map((offer) => {
    const name = offer.commonName ? `${offer.scientificName} (${offer.commonName})` : offer.scientificName;
    return `${name}: ${groupWords(say, offer)}, ${say.money(offer.priceMinor, currency)}; ${spareWords(say, offer)}`;
  });
  const body = lines.length > 0 ? lines : [say.say('offers.none')];
  return [
    `${say.say('offers.title')}, ${business}`,
    say.say('offers.asOf', { day: say.day(today) }),
    '',
    ...body,
    '',
    say.say('offers.law'),
    '',
  ].join('\n');
}
