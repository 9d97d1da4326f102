import { type PlaceKind, placeKindWords } from '../../shared/places/form.ts';
import { Button, PostButton } from '../layout/button.tsx';
import { Form } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { FormFurniture } from '../layout/furniture.ts';

export type PlaceRow = {
  id: number;
  kind: PlaceKind;
  name: string;
  fullName: string;
  /** How many places it stands in: 0 for a room. */
  depth: number;
  /** On it and on all that stands in it. */
  cultures: number;
  retired: boolean;
  /** Nobody in use before it, or after it, on the same shelf, rack or floor. */
  first: boolean;
  last: boolean;
};

type TreeProps = { furniture: FormFurniture; rows: PlaceRow[]; mayEdit: boolean };

type Branch = { row: PlaceRow; branches: Branch[] };

/** Rows in walking order, nested by their depth. */
function nested(rows: readonly PlaceRow[]): Branch[] {
  const top: Branch[] = [];
  const path: Branch[] = [];
  for (const row of rows) {
    const branch: Branch = { row, branches: [] };
    path.length = Math.min(path.length, row.depth);
    (path.at(-1)?.branches ?? top).push(branch);
    path.push(branch);
  }
  return top;
}

function Move(props: { furniture: FormFurniture; row: PlaceRow; way: 'up' | 'down'; disabled: boolean }) {
  const { furniture, row, way, disabled } = props;
  const action = `/places/${row.id}/${way}`;
  return (
    <Form
      furniture={furniture}
      action={action}
      keyPart={String(row.id)}
      class="post-button"
      hx-post={action}
      hx-target="#places-tree"
      hx-swap="outerHTML"
    >
      <Button
        kind="quiet"
        id={`place-${row.id}-${way}`}
        disabled={disabled}
        ariaLabel={`Move ${row.fullName} ${way}`}
      >
        {way === 'up' ? 'Up' : 'Down'}
      </Button>
    </Form>
  );
}

function PlaceLine({
  furniture,
  row,
  mayEdit,
}: {
  furniture: FormFurniture;
  row: PlaceRow;
  mayEdit: boolean;
}) {
  return (
    <div class="place">
      <span class="place-name">
        {row.name} <small class="quiet">{placeKindWords[row.kind].one}</small>
      </span>
      <span class="place-cultures">
        {row.cultures > 0 ? (
          <a href={`/cultures?place=${row.id}`}>{formatCount(row.cultures, 'culture')}</a>
        ) : (
          <span class="quiet">empty</span>
        )}
      </span>
      {mayEdit && (
        <span class="place-actions">
          <Move furniture={furniture} row={row} way="up" disabled={row.first} />
          <Move furniture={furniture} row={row} way="down" disabled={row.last} />
          <a
            class="button button-quiet"
            href={`/places/${row.id}/edit`}
            aria-label={`Change ${row.fullName}`}
          >
            Change
          </a>
          {row.kind !== 'position' && (
            <a
              class="button button-quiet"
              href={`/places?in=${row.id}#add`}
              aria-label={`Add in it: ${row.fullName}`}
            >
              Add in it
            </a>
          )}
        </span>
      )}
    </div>
  );
}

function Branches({ branches, ...rest }: { branches: Branch[]; furniture: FormFurniture; mayEdit: boolean }) {
  return (
    <ol class="places">
      {branches.map(({ row, branches: inside }) => (
        <li key={row.id}>
          <PlaceLine row={row} {...rest} />
          {inside.length > 0 && <Branches branches={inside} {...rest} />}
        </li>
      ))}
    </ol>
  );
}

/** All places as one walks past them; a move answers with this part alone. */
export function PlacesTree({ furniture, rows, mayEdit }: TreeProps) {
  const used = rows.filter((row) => !row.retired);
  const retired = rows.filter((row) => row.retired);
  return (
    <div id="places-tree">
      <Branches branches={nested(used)} furniture={furniture} mayEdit={mayEdit} />
      {retired.length > 0 && (
        <section class="retired-places">
          <h2>No longer used</h2>
          <ul class="places">
            {retired.map((row) => (
              <li key={row.id}>
                <div class="place">
                  <span class="place-name">
                    {row.fullName} <small class="quiet">{placeKindWords[row.kind].one}</small>
                  </span>
                  {mayEdit && (
                    <PostButton
                      furniture={furniture}
                      action={`/places/${row.id}/bring-back`}
                      label="Bring back"
                      ariaLabel={`Bring back ${row.fullName}`}
                      kind="quiet"
                      keyPart={String(row.id)}
                    />
                  )}
                </div>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}
