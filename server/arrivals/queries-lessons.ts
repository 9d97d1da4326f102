import { sql } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';

/** What one parcel tells of one species. */
export type Lesson = {
  speciesId: number;
  scientificName: string;
  commonName: string;
  /** Null where no pack went along. */
  pack: string | null;
  orderNumber: number;
  sent: number;
  dead: number;
  lowestC: number;
  highestC: number;
};

/**
 * Every parcel that was told of and whose trip was worked out, by species: the latest report and the latest trip count.
 * Missing animals are no deaths: a count that was wrong from the beginning would move a limit.
 */
export const lessons = (db: Db): Lesson[] =>
  db.all<Lesson>(sql`
    SELECT s.id AS speciesId, s.scientific_name AS scientificName, s.common_name AS commonName, p.name AS pack,
      o.number AS orderNumber, coalesce(l.sent, sum(a.animals)) AS sent, coalesce(l.dead, 0) AS dead,
      t.lowest_c AS lowestC, t.highest_c AS highestC
    FROM trips t
    JOIN orders o ON o.id = t.order_id AND o.state IN ('sent', 'closed')
    JOIN arrival_reports r ON r.id = (SELECT max(id) FROM arrival_reports WHERE order_id = t.order_id)
    JOIN order_lines ol ON ol.order_id = t.order_id
    JOIN allocations a ON a.order_line_id = ol.id AND a.state = 'packed'
      AND NOT EXISTS (SELECT 1 FROM allocations later WHERE later.instead_of = a.id)
    JOIN species s ON s.id = ol.species_id
    LEFT JOIN packs p ON p.id = t.pack_id
    LEFT JOIN arrival_losses l ON l.report_id = r.id AND l.species_id = ol.species_id
    WHERE t.id = (SELECT max(id) FROM trips WHERE order_id = t.order_id)
    GROUP BY t.id, s.id
    ORDER BY s.scientific_name, o.number`);

/** How many parcels with a trip have left, and of how many of them the customer has told. */
export const toldOf = (db: Db): { sent: number; told: number } =>
  db.get<{ sent: number; told: number }>(sql`
    SELECT count(*) AS sent, coalesce(sum(EXISTS (SELECT 1 FROM arrival_reports WHERE order_id = o.id)), 0) AS told
    FROM orders o
    WHERE o.state IN ('sent', 'closed') AND EXISTS (SELECT 1 FROM trips WHERE order_id = o.id)`);
