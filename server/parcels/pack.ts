import { h } from 'preact';
import {
  heatPackForm,
  heatPackFromForm,
  meltingPackForm,
  meltingPackFromForm,
  type PackKind,
  type PackValues,
  packFormValues,
} from '../../shared/parcels/pack-form.ts';
import { PackFormPage } from '../../views/parcels/page-pack.tsx';
import { readForm } from '../plumbing/forms.ts';
import { type KeptPages, settle } from '../plumbing/kept-pages.ts';
import { insertPack, type Pack, packNamed, readPack, setPackRetired, updatePack } from './queries-stock.ts';

const kindOf = (given: unknown): PackKind => (given === 'melting' ? 'melting' : 'heat');

export const keptPacks: KeptPages<Pack, PackValues> = {
  what: 'pack',
  subject: (id) => `pack ${id}`,
  read: readPack,
  named: packNamed,
  insert: insertPack,
  update: (tx, { id }, values) => updatePack(tx, id, values),
  setRetired: setPackRetired,
  address: '/parcels/packs',
  list: '/parcels/stock',
  shown: ({ business }, pack) => packFormValues(pack, business.units, business.currency),
  made({ business: { units, currency }, body }, before) {
    if ((before?.kind ?? kindOf(body.kind)) === 'heat') {
      const form = readForm(heatPackForm(currency), body);
      return form.ok ? settle(form.form, heatPackFromForm(form.data, units, before)) : form;
    }
    const form = readForm(meltingPackForm(currency), body);
    return form.ok ? settle(form.form, meltingPackFromForm(form.data, units, before)) : form;
  },
  form({ furniture, business: { units, currency }, query }, form, pack) {
    const kind = pack?.kind ?? kindOf(form.values.kind ?? query.kind);
    return h(PackFormPage, { furniture, kind, form, pack, units, currency });
  },
};
