import { h } from 'preact';
import { numberFormChoices } from '../../shared/settings/regions.ts';
import { SettingsPage } from '../../views/settings/page-settings.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';

export function showSettings(call: StaffCall): Answer {
  const { business, furniture } = call;
  const chosen = numberFormChoices(business.locale).find(({ value }) => value === business.locale);
  return page(h(SettingsPage, { furniture, business, numberSample: chosen?.label ?? business.locale }));
}
