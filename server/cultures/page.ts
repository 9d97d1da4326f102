import { h } from 'preact';
import { addDays, daysBetween } from '../../shared/days.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { isShrinking } from '../../shared/lines/page-shrinking.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import { populationProfile } from '../../shared/species/profile.ts';
import { CulturePage } from '../../views/cultures/page-culture.tsx';
import { substrateOf } from '../checks/queries-substrate.ts';
import { airOfCulture, airSaid } from '../climate/queries-warnings.ts';
import { waterOf } from '../climate/queries-water.ts';
import { type Estimate, readEstimate, readPoints } from '../counts/queries-estimate.ts';
import { photographed } from '../counts/queries-photos.ts';
import { stagesExpected } from '../development/queries.ts';
import { kinOf } from '../lines/queries-kin.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { openPlans, splitProposals } from '../splits/queries-plans.ts';
import { curveOf, findingOf } from './curve.ts';
import { childrenOf, type LoadedCulture, loadCulture, parentsOf, promisedOf } from './queries.ts';
import { diaryLength, populationEntries, readDiary } from './queries-diary.ts';

const diaryPageSize = 20;

function diaryPart(call: StaffCall, culture: LoadedCulture['culture']) {
  const wanted = Math.max(1, Number.parseInt(call.query.page ?? '1', 10) || 1);
  const total = diaryLength(call.db, culture.id);
  const current = Math.min(wanted, Math.max(1, Math.ceil(total / diaryPageSize)));
  const entries = readDiary(call.db, culture.id, {
    limit: diaryPageSize,
    offset: (current - 1) * diaryPageSize,
  });
  return {
    code: culture.code,
    entries,
    photographed: photographed(call.db, culture.id),
    page: current,
    pageSize: diaryPageSize,
    total,
    locale: call.business.locale,
  };
}

/** How far ahead a split is proposed. */
const proposedDays = 28;

function plansPart(call: StaffCall, { id, code, status }: LoadedCulture['culture']) {
  if (status === 'retired') return null;
  const until = addDays(call.today, proposedDays);
  return {
    plans: openPlans(call.db, { cultureId: id }),
    proposal: splitProposals(call.db, until, call.today, code)[0] ?? null,
  };
}

function airPart(call: StaffCall, { culture, species }: LoadedCulture) {
  const said = airSaid(call);
  const isKept = culture.status !== 'retired';
  return { ...said, warnings: isKept ? airOfCulture(call.db, culture.placeId, species, said.now) : [] };
}

const forecastOf = ({ forecast }: Estimate) =>
  forecast ? (JSON.parse(forecast) as { median: number }[]) : [];

/** What the estimate began with, by the same functions that made it. */
function begunOf(call: StaffCall, { culture, species, enclosure }: LoadedCulture) {
  const substrateLitres = volumeLitres(measuresOf(enclosure), enclosure.substrateDepthMm);
  const { growthPerWeek, capacity } = populationProfile(species, substrateLitres);
  return {
    foundedOn: culture.foundedOn,
    foundingAnimals: culture.foundingAnimals,
    substrateLitres,
    units: call.business.units,
    growthPerWeek: growthPerWeek.median,
    capacity: capacity.median,
    groupAnimals: animalsPerGroup(species),
  };
}

export function showCulture(call: StaffCall): Answer {
  const { db, today, furniture } = call;
  const loaded = loadCulture(db, call.params.code ?? '');
  const { culture, species, enclosure, line, place } = loaded;
  const estimate = readEstimate(db, culture.id);
  const entries = populationEntries(db, culture.id);
  const empty = {
    past: [],
    ahead: [],
    counts: [],
    removals: [],
    additions: [],
    dieOffs: [],
    capacity: null,
    reserve: null,
    today,
  };
  return page(
    h(CulturePage, {
      furniture,
      culture,
      species,
      line,
      place: place?.fullName ?? null,
      enclosure: enclosure.name,
      parents: parentsOf(db, culture.id),
      children: childrenOf(db, culture.id),
      known: estimate ? { ...estimate, promised: promisedOf(db, culture.id) } : null,
      countedDaysAgo: estimate?.lastCountOn ? daysBetween(estimate.lastCountOn, today) : null,
      finding: estimate ? findingOf(estimate) : '',
      begun: begunOf(call, loaded),
      curve: estimate ? curveOf(culture, estimate, readPoints(db, culture.id), entries) : empty,
      substrate: culture.status === 'retired' ? null : substrateOf(db, culture.id, today),
      air: airPart(call, loaded),
      water: culture.status === 'retired' ? undefined : waterOf(db, culture, today),
      planned: plansPart(call, culture),
      expected: culture.status === 'retired' ? [] : stagesExpected(db, culture, today),
      today,
      kin: kinOf(db, culture, today),
      isShrinking: estimate !== undefined && isShrinking(estimate.median, forecastOf(estimate)),
      diary: diaryPart(call, culture),
    }),
  );
}
