/**
 * What a copy without persons still holds as it was: columns of text that hold names of things, words of the trade and
 * figures, by table. Besides these only what the database itself bounds (another row's id, a word of a list, a day) is
 * kept. Every other text is replaced, so a new column is left out until somebody names it here.
 */
export const kept: Readonly<Record<string, string>> = {
  box_logs: 'readings',
  boxes: 'name conductivity_source',
  business: 'country time_zone currency locale',
  care_version_terms: 'term words',
  care_version_texts: 'text',
  care_versions: 'common_name cautions',
  carriers: 'name cut_off collects_on delivers_on country region delivered_by',
  climate_sensors: 'name',
  count_photos: 'taps',
  counting_usual: 'animal_group',
  culture_estimates: 'as_of fault ready_on last_count_on last_check_on forecast',
  culture_plans: 'on_day made_on',
  cultures: 'code morph',
  cups: 'name',
  customers: 'country',
  detection_pairs: 'full_on',
  diary: 'count_input food',
  enclosures: 'name ventilation',
  estimate_points: 'on_day',
  group_packing: 'ventilation padding',
  invoice_buyers: 'country',
  invoice_lines: 'words scientific_name detail',
  invoice_taxes: 'name',
  invoices: 'number currency issued_on supplied_on due_on locale',
  invoicing: 'prefix',
  label_prints: 'code',
  label_sheets: 'name',
  lines: 'name locality',
  materials: 'name',
  migrations: 'name sha256',
  movement_origin: 'region',
  movement_rules:
    'name from_country from_region to_country to_region genus words source checked_on permit_expires_on',
  order_history: 'state',
  order_requests: 'country currency',
  orders: 'currency dispatch_on',
  packs: 'name source',
  parcel_choices: 'arrives_on dispatch_by dispatch_before batch',
  parcel_habits: 'packed_at',
  payment_ways: 'name',
  payments: 'paid_on',
  people: 'id',
  places: 'name full_name shelf_order',
  population_states: 'on_day basis state',
  recipe_layer_parts: 'material',
  recipe_layers: 'name',
  species: 'scientific_name common_name animal_group cautions',
  species_care: 'heading text',
  species_layer_parts: 'material',
  species_layers: 'name',
  species_packing: 'ventilation padding',
  species_stages: 'source',
  tax_rates: 'name from_on until_on',
  weather_areas: 'country postcode_start',
  weather_days: 'source',
  weather_fetches: 'last_modified',
  weather_services: 'address',
};

/** Nothing of these goes along: who did and read what, what signs in, letters, files that were brought, what customers sent. */
export const emptied =
  'arrival_photo_files arrival_photos arrival_words audit calendar_feeds form_keys half_sign_ins import_drafts import_prints import_uploads known_devices mails one_time_links order_care_sheets personal_reads recovery_codes second_factors sessions sign_in_tries'.split(
    ' ',
  );

/** What stands in the place of a text, where "left out" would not do: an expression of SQL over the row itself. */
export const invented: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  arrival_reports: { form_key: "'left-out-report-' || id" },
  business: { name: "'Example bench'", email: "'bench@example.org'" },
  climate_sensors: { token_hash: 'lower(hex(randomblob(32)))' },
  count_photo_files: { bytes: 'plain_picture()' },
  count_photos: { sha256: 'plain_picture_sha256()' },
  customers: {
    name: "'Customer ' || id",
    email: "iif(email = '', '', 'customer-' || id || '@example.org')",
    ...Object.fromEntries('phone street postcode city region'.split(' ').map((name) => [name, "''"])),
  },
  imports: {
    file_name: "'file-' || id || '.csv'",
    mapping: "'{}'",
    left_out: `'{"labels":[],"rows":[]}'`,
  },
  invoice_buyers: { name: "'Customer'" },
  invoices: { seller_name: "'Example bench'", seller_email: "'bench@example.org'" },
  link_key: { secret: 'randomblob(32)' },
  order_links: { nonce: 'randomblob(8)', ended_at: 'coalesce(ended_at, made_at)' },
  order_requests: { form_key: "'left-out-request-' || id", email: "'customer@example.org'", region: "''" },
  orders: { tracking: "''", tracking_link: "''" },
  parcel_choices: { decided: "json_set(decided, '$.places', json('[]'))" },
  people: {
    sign_in_name: "'person-' || rowid || '@example.org'",
    name: "'Person ' || rowid",
    password_hash: "'none'",
  },
  weather_places: {
    name: "'Town ' || id",
    label: "''",
    latitude: 'round(latitude)',
    longitude: 'round(longitude)',
  },
  weather_services: { contact: "iif(contact = '', '', 'nobody@example.org')", is_on: '0' },
};
