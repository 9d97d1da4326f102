import { h } from 'preact';
import { diaryForms, movedAnimals } from '../../shared/cultures/diary-form.ts';
import type { Objection } from '../../shared/cultures/objections.ts';
import { type MixingAnswer, mixingPartners, shareOfNewcomers } from '../../shared/lines/mixing.ts';
import { isShrinking } from '../../shared/lines/page-shrinking.ts';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { dayFault } from '../../views/cultures/say.ts';
import { formatCount } from '../../views/layout/format.ts';
import { MixingPage, type MixingPageProps } from '../../views/lines/page-mixing.tsx';
import { formatGeneShare } from '../../views/lines/say.ts';
import type { Mixture } from '../../views/lines/say-worked-out.ts';
import { type Estimate, readEstimate, readEstimates } from '../counts/queries-estimate.ts';
import type { LoadedCulture } from '../cultures/queries.ts';
import { loadKeptCulture } from '../cultures/queries-kept.ts';
import { mixInto, type Why } from '../cultures/queries-moving.ts';
import { otherCultures } from '../cultures/queries-write.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { listLines } from './queries.ts';
import { apartRules } from './queries-apart.ts';
import { kinOf } from './queries-kin.ts';
import { kinshipOf } from './queries-kinship.ts';

const tick = 'Mix all the same';
/** Partners below these gain next to nothing, and nobody reads on. */
const mostPartners = 12;
/** So many are reckoned step by step. */
const mostReckoned = 3;

const load = (call: StaffCall) => loadKeptCulture(call.db, call.params.code ?? '', 'mixed');

type Other = ReturnType<typeof otherCultures>[number];

/** The other kept cultures, parted into those that may be proposed and those that may not, and why. */
function candidates({ db }: StaffCall, { culture }: LoadedCulture) {
  const why = apartRules(db, culture.speciesId);
  const apart: { code: string; why: string }[] = [];
  const free: Other[] = [];
  for (const other of otherCultures(db, culture)) {
    const never = why(other.lineId, culture.lineId);
    if (never) apart.push({ code: other.code, why: never });
    else if (other.status === 'quarantine') apart.push({ code: other.code, why: 'it is in quarantine' });
    else free.push(other);
  }
  return { free, apart };
}

/** Ranked partners; null where inbreeding says nothing, or where there is nothing left to be strengthened. */
function rank(call: StaffCall, { culture }: LoadedCulture, free: readonly Other[]): MixingAnswer | null {
  const known = kinshipOf(call.db, culture.speciesId, call.today);
  const place = known?.found.placeOf(culture.code);
  if (!known || known.clonal || place === undefined || known.found.animals[place]! < 0.5) return null;
  const codes = new Set(free.map(({ code }) => code));
  return mixingPartners(known.found, place, { mayMix: (code) => codes.has(code) });
}

function partnersOf(call: StaffCall, loaded: LoadedCulture, free: readonly Other[], answer: MixingAnswer) {
  const shown = answer.partners.slice(0, mostPartners);
  const byCode = new Map(free.map((other) => [other.code, other]));
  const names = new Map(listLines(call.db, loaded.culture.speciesId).map(({ id, name }) => [id, name]));
  const estimates = readEstimates(
    call.db,
    shown.map(({ code }) => byCode.get(code)!.id),
  );
  return shown.map((partner) => {
    const { id, lineId } = byCode.get(partner.code)!;
    const known = estimates.get(id);
    return {
      ...partner,
      id,
      line: lineId === null ? null : (names.get(lineId) ?? null),
      median: known?.median ?? null,
      lower: known?.lower ?? null,
      upper: known?.upper ?? null,
      spareAnimals: known?.spareAnimals ?? 0,
      health: known?.health ?? 'well',
    };
  });
}

/** What the first partners' figures stand on. */
function mixturesOf(call: StaffCall, { culture }: LoadedCulture, answer: MixingAnswer | null): Mixture[] {
  const found = kinshipOf(call.db, culture.speciesId, call.today)?.found;
  const place = found?.placeOf(culture.code);
  if (!found || place === undefined || !answer) return [];
  return answer.partners.slice(0, mostReckoned).flatMap(({ code, animals, kinship, heterozygosityAfter }) => {
    const partner = found.placeOf(code);
    if (partner === undefined) return [];
    const [own, theirs] = [found.at(place, place), found.at(partner, partner)];
    const share = shareOfNewcomers(found, place, animals);
    return [{ code, animals, here: found.animals[place]!, share, own, theirs, kinship, heterozygosityAfter }];
  });
}

const forecastOf = (known: Estimate | undefined) =>
  known?.forecast ? (JSON.parse(known.forecast) as { median: number }[]) : [];

function mixingPage(
  call: StaffCall,
  loaded: LoadedCulture,
  form: FormState | null,
  objections: Objection[] = [],
) {
  const { culture, species, place } = loaded;
  const { free, apart } = candidates(call, loaded);
  const answer = rank(call, loaded, free);
  const kin = kinOf(call.db, culture, call.today);
  const known = readEstimate(call.db, culture.id);
  const partners = answer ? partnersOf(call, loaded, free, answer) : [];
  const props: MixingPageProps = {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    inQuarantine: culture.status === 'quarantine',
    health: known?.health ?? 'well',
    clonal: kin?.clonal ?? false,
    kept: kin && !kin.clonal ? kin.heterozygosityKept : null,
    isInbred: kin?.isInbred ?? false,
    isShrinking: isShrinking(known?.median ?? null, forecastOf(known)),
    hasDiedOut: answer === null && kin !== null && !kin.clonal,
    partners,
    mixtures: mixturesOf(call, loaded, answer),
    notShown: (answer?.partners.length ?? 0) - partners.length,
    apart,
    // What would do no good is not proposed, but nobody is kept from doing it.
    others: free.map(({ id, code }) => ({ id, code })),
    form: form ?? { values: suggestion(partners, call.query.from, call.today), errors: {} },
    today: call.today,
    objections,
  };
  return h(MixingPage, props);
}

/** The partner that was chosen, or the best that can spare enough for half the gain; and that many animals. */
function suggestion(
  partners: MixingPageProps['partners'],
  chosen: string | undefined,
  today: string,
): FormState['values'] {
  const enough = (one: MixingPageProps['partners'][number]) =>
    one.animalsForGain !== null && one.health === 'well' && one.spareAnimals >= one.animalsForGain;
  const partner = partners.find(({ code }) => code === chosen) ?? partners.find(enough);
  if (!partner) return { onDay: today };
  return { onDay: today, fromId: partner.id, animals: partner.animalsForGain ?? partner.animals };
}

export function askMixing(call: StaffCall): Answer {
  return page(mixingPage(call, load(call), null));
}

type Mixed = { id: number; animals: number; from: string };

const form = diaryForms.addition;

export function saveMixing(call: StaffCall): Answer {
  // Sent twice, the second is answered like the first.
  const before = call.outcome<Mixed>();
  const code = call.params.code ?? '';
  if (before) return redirect(cultureHref(code));
  const loaded = load(call);
  const { culture } = loaded;
  const read = readForm(form, call.body);
  if (!read.ok) return wrongForm(mixingPage(call, loaded, read.form));
  const { today, business } = call;
  const onDay = read.data.onDay ?? today;
  const from = otherCultures(call.db, culture).find(({ id }) => id === read.data.fromId);
  const errors: Record<string, string> = {};
  const wrongDay = dayFault(culture, onDay, today, business.locale);
  if (wrongDay) errors.onDay = wrongDay;
  const wrongFrom = from ? dayFault(from, onDay, today, business.locale) : 'Choose a culture of the list.';
  if (wrongFrom && !wrongDay) errors.fromId = wrongFrom;
  if (!from || Object.keys(errors).length > 0)
    return wrongForm(mixingPage(call, loaded, withErrors(read.form, errors)));
  const now = call.clock.now();
  const base = { onDay, via: 'page', madeBy: call.who.id, madeAt: now } as const;
  const tried = attempt<Mixed, Why>(call, (tx, stop) => {
    const moving = { today, now, isOwner: call.who.role === 'owner', tick, stop };
    const id = mixInto(tx, { from, into: culture, form: read.data, base }, moving);
    return { id, animals: movedAnimals(read.data), from: from.code };
  });
  if ('why' in tried)
    return wrongForm(mixingPage(call, loaded, withErrors(read.form, tried.why.errors), tried.why.objections));
  return mixed(call, loaded, tried.written);
}

/** What was done and what came of it, with the way back. */
function mixed(call: StaffCall, { culture }: LoadedCulture, { id, animals, from }: Mixed): Answer {
  const kin = kinOf(call.db, culture, call.today);
  const now =
    kin && !kin.clonal
      ? ` It keeps ${formatGeneShare(kin.heterozygosityKept, call.business.locale)} of its founders’ heterozygosity now.`
      : '';
  const were = animals === 1 ? 'was' : 'were';
  return redirect(cultureHref(culture.code), {
    text: `${formatCount(animals, 'animal')} of ${from} ${were} put into ${culture.code}, in both diaries.${now}`,
    tone: 'plain',
    undo: { action: `${cultureHref(culture.code)}/diary/${id}/withdraw`, label: 'Undo' },
  });
}
