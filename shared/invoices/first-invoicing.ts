/** How invoices are written until the owner says otherwise. The years are no advice: laws differ. */
export const firstInvoicing = {
  prefix: '',
  firstNumber: 1,
  taxNumber: '',
  termDays: 14,
  payWords: '',
  exempt: false,
  exemptEn: '',
  exemptDe: '',
  exemptEs: '',
  keepYears: 10,
  inactiveYears: 3,
};
