import { LinkButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

export type PapersPageProps = {
  furniture: Furniture;
  number: number;
  warnings: readonly string[];
  /** Of the care sheets. */
  language: string;
  /** When the box was packed, in words, if its care sheets are kept; null when they are made from what stands now. */
  packedOn: string | null;
  /** The address in the sheet's code when no other machine can open it. */
  onlyHere: string | null;
};

/** An order's papers, and what to know before they are printed. */
export function PapersPage(props: PapersPageProps) {
  const { furniture, number, warnings, language, packedOn, onlyHere } = props;
  const path = `/orders/${number}`;
  return (
    <Shell
      furniture={furniture}
      title={`Papers of order ${number}`}
      purpose="The packing sheet stands behind the box, the care sheets go into it."
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: path, label: `Order ${number}` },
      ]}
    >
      {warnings.length === 0 ? (
        <p>The papers can be printed as they are.</p>
      ) : (
        <>
          <h2>Before you print</h2>
          <div class="stack">
            {warnings.map((warning) => (
              <Notice key={warning} tone="needs-you">
                {warning}
              </Notice>
            ))}
          </div>
        </>
      )}
      <p>
        {packedOn === null
          ? `The care sheets are in ${language}, from the care texts as they stand now.`
          : `The care sheets are in ${language}, as they lay in the box that was packed on ${packedOn}.`}{' '}
        {packedOn !== null && (
          <a href={`${path}/care-sheets.pdf?as=now`}>Print them with today’s care texts instead</a>
        )}
      </p>
      <div class="actions">
        <LinkButton href={`${path}/packing-sheet.pdf`}>Packing sheet</LinkButton>
        <LinkButton href={`${path}/care-sheets.pdf`}>Care sheets</LinkButton>
      </div>
      {onlyHere && (
        <p class="quiet">
          The code on the packing sheet leads to {onlyHere}, which only the machine that runs this service can
          open. Set BASE_URL to the address that the phones use.
        </p>
      )}
    </Shell>
  );
}
