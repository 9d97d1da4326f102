import { h } from 'preact';
import { readTyped } from '../../shared/settings/typed-number.ts';
import { fieldUnitsOf } from '../../shared/settings/typed-units.ts';
import { type AnimalGroup, animalGroups } from '../../shared/species/columns.ts';
import { defaultsFor } from '../../shared/species/defaults.ts';
import {
  changeRows,
  emptyLayer,
  layersInWords,
  shownLayers,
  type TypedLayer,
  typedLayers,
} from '../../shared/species/form-layers.ts';
import { speciesFormValues } from '../../shared/species/form-values.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { ChooseGroupPage } from '../../views/species/page-choose-group.tsx';
import { SpeciesFormPage, type SpeciesFormPageProps } from '../../views/species/page-form.tsx';
import { StartSafety } from '../../views/species/part-safety.tsx';
import { offeredEnclosures } from '../enclosures/queries.ts';
import { type Answer, page, part } from '../plumbing/answers.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { filledWith } from '../plumbing/edits.ts';
import { typed } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readCare, readLayers, recordOf, type Species } from './queries.ts';
import { speciesIn, startSafety } from './read.ts';

const noCare = {
  enclosure: '',
  substrate: '',
  water: '',
  food: '',
  breeding: '',
  temperature: '',
  normal: '',
  'not-normal': '',
};

export type Editing = Pick<SpeciesFormPageProps, 'species'>;

/** The rows of the layers as the form shows them. */
const layersNow = ({ business }: StaffCall, db: Db, { id }: Species) =>
  shownLayers(readLayers(db, id), fieldUnitsOf(business.units).length);

/** What the form shows of a species, its layers in words. */
export const keptNow = (call: StaffCall, db: Db, species: Species) => ({
  ...speciesFormValues(recordOf(species, readCare(db, species.id)), call.business),
  layers: layersInWords(layersNow(call, db, species)),
});

export function formPage(call: StaffCall, form: FormState, rows: TypedLayer[], editing: Editing) {
  const { db, business, furniture } = call;
  return h(SpeciesFormPage, {
    furniture,
    form,
    layers: rows.length > 0 ? rows : [emptyLayer],
    enclosures: offeredEnclosures(db, editing.species?.homeEnclosureId ?? null).map(({ id, name }) => ({
      id,
      name,
    })),
    safety: safetyOf(form.values as FormBody),
    units: business.units,
    currency: business.currency,
    ...editing,
  });
}

const isGroup = (text: string | undefined): text is AnimalGroup =>
  (animalGroups as readonly string[]).includes(text ?? '');

/** First which kind of animal, because the figures to begin with hang on it. */
export function askNewSpecies(call: StaffCall): Answer {
  const { group } = call.query;
  if (!isGroup(group)) return page(h(ChooseGroupPage, { furniture: call.furniture }));
  const record = {
    scientificName: '',
    commonName: '',
    animalGroup: group,
    homeEnclosureId: null,
    cautions: '',
    figures: defaultsFor(group),
    care: noCare,
  };
  const values = speciesFormValues(record, call.business);
  return page(formPage(call, { values, errors: {} }, [emptyLayer], { species: null }));
}

export function askEditSpecies(call: StaffCall): Answer {
  const species = speciesIn(call);
  const form = filledWith(keptNow(call, call.db, species));
  return page(formPage(call, form, layersNow(call, call.db, species), { species }));
}

/** A button for rows was pressed: the form comes back as it was typed, with the rows changed. Nothing is saved. */
export function withChangedRows(call: StaffCall, change: string, editing: Editing): Answer {
  const form = typed(call.body);
  return page(formPage(call, form, changeRows(typedLayers(form.values), change), editing));
}

/** How safe a start with the typed figures is; null while they do not say. */
function safetyOf(fields: FormBody) {
  const number = (name: string) => {
    const text = fields[name];
    const value = typeof text === 'string' ? readTyped(text) : null;
    return value !== null && value >= 0 ? value : Number.NaN;
  };
  const parthenogenetic = fields.parthenogenetic !== undefined;
  const group = {
    groupAdults: number('groupAdults'),
    groupJuveniles: number('groupJuveniles'),
    femaleShare: parthenogenetic ? 1 : number('femalePercent') / 100,
    startMales: parthenogenetic ? 0 : number('startMales'),
    startFemales: number('startFemales'),
  };
  const whole = [group.groupAdults, group.groupJuveniles, group.startMales, group.startFemales];
  if (!whole.every(Number.isInteger) || !(group.femaleShare <= 1)) return null;
  const probability = startSafety(group);
  return probability === null ? null : { ...group, probability };
}

/** The line that says how safe a start is, while the form is being filled in. */
export function showSafety(call: StaffCall): Answer {
  return part(h(StartSafety, { safety: safetyOf(call.query), locale: call.business.locale }));
}
