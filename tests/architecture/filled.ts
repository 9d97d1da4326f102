/**
 * One row or more for every table, as it could be written at the schema that made the table. Written once and kept: a
 * later migration must bring these rows along. A migration that makes a table adds its rows here.
 */
export const fillings: Record<number, string> = {
  1: `
    INSERT INTO business VALUES (1, 'Old Bench', '1 Example Lane', 'bench@example.org', 'DE', 'Europe/Berlin', 'EUR',
      'en-GB', 'metric', 'A4', 1000);
    INSERT INTO people VALUES ('p1', 'olive', 'Olive', 'owner', 'none', 1, 'system', 1000, NULL),
      ('p2', 'hal', 'Hal', 'helper', 'none', 0, 'dark', 1001, 'p1');
    INSERT INTO sessions VALUES ('s1', 'p1', 2000, 1000, 'a browser', NULL);
    INSERT INTO one_time_links VALUES ('t1', 'invitation', 'helper', 'Pat', NULL, 2000, NULL, 1000, 'p1'),
      ('t2', 'reset', NULL, NULL, 'p2', 2000, 1500, 1000, 'p1');
    INSERT INTO sign_in_tries VALUES (1, 'a', 'b', 1000);
    INSERT INTO known_devices VALUES ('d1', 'p1', 1000, 1000);
    INSERT INTO form_keys VALUES ('key-0123456789abcdef', 'p1', '/account', 'null', 1000);
    INSERT INTO audit VALUES (1, 1000, 'p1', 'set up', 'business', NULL, '{"name":"Old Bench"}');
  `,
  2: `
    INSERT INTO imports VALUES (1, 'diary', 'old.csv', 'done', '{}', 1, 0, '[]', 'p1', 1000, NULL, NULL);
    INSERT INTO import_prints VALUES ('print', 1);
    INSERT INTO import_drafts VALUES ('draft', 'new.csv', x'00ff', NULL, 'p1', 1000);
    INSERT INTO enclosures (id, name, shape, length_mm, width_mm, height_mm, substrate_depth_mm, ventilation, measured)
      VALUES (1, 'Box', 'box', 200, 150, 120, 60, 'mesh', 1);
    INSERT INTO places (id, parent_id, kind, name, full_name, shelf_order)
      VALUES (1, NULL, 'room', 'Cellar', 'Cellar', 'a'), (2, 1, 'rack', 'One', 'Cellar, One', 'aa');
    INSERT INTO species (id, scientific_name, common_name, animal_group, sellable, group_adults, group_juveniles,
      group_extras, price_minor, growth_per_week_median, growth_sd_log, capacity_per_litre_median, capacity_sd_log,
      process_sd, detection_alpha, detection_beta, adult_alpha, adult_beta, reserve_animals, reserve_share, confidence,
      female_share, start_males, start_females, generation_days, effective_ratio, check_every_days, feed_every_days,
      lethal_low_c, safe_low_c, ideal_low_c, ideal_high_c, safe_high_c, lethal_high_c, home_enclosure_id, cautions)
      VALUES (1, 'Exemplum vetus', 'old example', 'isopod', 1, 10, 2, 2, 1250, 0.07, 0.5, 80, 0.4, 0.05, 6, 9, 6, 6,
        24, 0.5, 0.9, 0.5, 2, 2, 120, 0.5, 7, 7, 0, 8, 20, 26, 30, 36, 1, '');
    INSERT INTO species_care VALUES (1, 'water', 'Keep one end moist.');
    INSERT INTO species_layers VALUES (1, 1, 0, 'soil', 40);
    INSERT INTO species_layer_parts VALUES (1, 0, 'leaf mould', 2, 0.8);
    INSERT INTO lines (id, species_id, name, locality, note) VALUES (1, 1, 'dusk', '', '');
    INSERT INTO cultures (id, code, species_id, morph, line_id, enclosure_id, place_id, founded_on, origin,
      founding_animals, founding_sd_log, status, note, made_by, made_at)
      VALUES (1, 'OLD-1', 1, '', 1, 1, 2, '2020-01-01', 'bought', 20, 0.2, 'active', '', 'p1', 1000),
        (2, 'OLD-2', 1, '', 1, 1, 2, '2020-06-01', 'split', 12, 0.1, 'active', '', 'p2', 1001);
    INSERT INTO culture_parents VALUES (2, 1, 12);
  `,
  3: `
    INSERT INTO diary (id, culture_id, on_day, kind, root_id, replaces_id, withdrawn, animals, other_culture_id, note,
      via, made_by, made_at)
      VALUES (1, 1, '2020-06-01', 'split', NULL, NULL, 0, 12, 2, '', 'page', 'p1', 1000),
        (2, 1, '2020-06-02', 'note', NULL, NULL, 0, NULL, NULL, 'moist', 'page', 'p1', 1000),
        (3, 1, '2020-06-02', 'note', 2, 2, 0, NULL, NULL, 'moist, not wet', 'page', 'p2', 1001);
    INSERT INTO population_states (culture_id, on_day, position, events, basis, state)
      VALUES (1, '2020-06-01', 1, 1, 'basis', x'0102');
    INSERT INTO estimate_points VALUES (1, '2020-06-01', 1, 40, 30, 50, 28, 20, 38);
    INSERT INTO culture_estimates (culture_id, as_of, worked_out_at, median, promisable, spare_animals, spare_groups)
      VALUES (1, '2020-07-01', 1000, 140, 28, 28, 2);
    INSERT INTO customers (id, name, email, phone, street, postcode, city, region, country, units, paper, note, made_at)
      VALUES (1, 'Carla Customer', 'carla@example.org', '', '', '', 'Exampletown', '', 'DE', 'metric', 'A4', '', 1000);
    INSERT INTO orders (id, number, customer_id, state, currency, postage_minor, note, version, made_by, made_at)
      VALUES (1, 1, 1, 'confirmed', 'EUR', 500, '', 1, 'p1', 1000);
    INSERT INTO order_lines (id, order_id, position, species_id, groups, group_adults, group_juveniles, group_extras,
      price_minor) VALUES (1, 1, 0, 1, 1, 10, 2, 2, 1250);
    INSERT INTO order_history VALUES (1, 1, 'confirmed', '', 'p1', 1000);
    INSERT INTO allocations (id, order_line_id, culture_id, groups, animals, state, made_by, made_at)
      VALUES (1, 1, 1, 1, 14, 'reserved', 'p1', 1000);
  `,
  5: `
    INSERT INTO import_uploads VALUES ('upload-0123456789', '{}', 1, 'p1', 1000);
    INSERT INTO import_touched VALUES (1, 1, 2, 'active');
  `,
  6: `
    INSERT INTO contacts VALUES (1, '2020-06-03', 1, 2, 'shared tool', '', 2, NULL, 'p1', 1000),
      (2, '2020-06-03', 1, 2, 'shared tool', '', 2, 1, 'p1', 1001);
  `,
  7: `
    INSERT INTO lines (id, species_id, name, locality, note, kept_pure) VALUES (2, 1, 'dawn', 'old quarry', '', 'locality');
    INSERT INTO lines_apart VALUES (1, 2);
  `,
  10: `
    INSERT INTO counting VALUES (1, 2, 15, 30, 0.2);
    INSERT INTO counting_usual VALUES ('isopod', 'full');
    INSERT INTO round_counts VALUES (1, 1, '2020-07-01', 'full', 30, 1.5, 'p1', 1000, NULL, NULL);
    INSERT INTO put_offs VALUES (1, 1, 'feed', '2020-07-03', 'full bellies', 'p2', 1000, NULL, NULL);
  `,
  11: `
    INSERT INTO label_sheets VALUES (1, 'Small', 3, 8, 10, 7, NULL, NULL, 2, 0, NULL, 34, 1, 5);
    INSERT INTO label_prints VALUES (1, 1, 'OLD-1', 'p1', 1000);
    INSERT INTO count_photos VALUES (1, 1, 1, 640, 480, '${'0'.repeat(64)}', '[[5000,5000]]', 'p1', 1000),
      (2, 1, NULL, 640, 480, '${'1'.repeat(64)}', '[]', 'p1', 1000);
    INSERT INTO count_photo_files VALUES (1, x'ffd8'), (2, x'ffd8');
    INSERT INTO detection_updates VALUES (1, 1, 6, 9, 8, 13, 5, 'p1', 1000);
    INSERT INTO detection_pairs VALUES (1, 1, 2, '2020-06-01', '2020-06-02', 20, 60);
  `,
  12: `
    INSERT INTO climate_sensors VALUES (1, 1, 'Shelf end', '${'0'.repeat(64)}', 'p1', 1000, NULL);
    INSERT INTO climate_readings VALUES (1, 1, 1000, '2020-07-01', 21.5, 60, 'sensor', 1, NULL, 1000, NULL, NULL),
      (2, 1, 2000, '2020-07-01', 69, NULL, 'page', NULL, 'p1', 2000, 'p1', 3000);
    INSERT INTO climate_days VALUES (1, '2020-07-01', 1, 21.5, 21.5, 21.5, 60, 1.03);
  `,
  13: `
    INSERT INTO species SELECT 2, 'Exemplum volans', '', 'fly', 0, 10, 2, 2, 0, 0.6, 0.5, 1500, 0.4, 0.15, 6, 9, 6, 6, 50,
      0.5, 0.9, 0.5, 2, 2, 24, 0.5, 3, 7, 0, 8, 20, 26, 30, 36, NULL, '', NULL, NULL;
    INSERT INTO feeder_species VALUES (2, 14, 21, 300, 30, 1.2);
    INSERT INTO feeder_diets VALUES (1, 2, 40);
  `,
  14: `
    INSERT INTO species_stages VALUES (1, 'hatch', 18, 30, 25, 14, 'own notes');
  `,
  15: `
    INSERT INTO mails VALUES (1, 'order confirmed', 'order 1 step 1', 1, 'Carla Customer', 'carla@example.org', 'en',
      'Order 1', 'Dear Carla', '<p>Dear Carla</p>', 0, '<1@example.org>', 'refused', 1, 1000, 2000, '550 no such user', 1500,
      'p1', 1000);
  `,
  16: `
    UPDATE customers SET language = 'de' WHERE id = 1;
    UPDATE orders SET language = 'es' WHERE id = 1;
  `,
  17: `
    INSERT INTO culture_plans VALUES (1, 1, 'split', '2020-08-01', 1, 2, '2020-07-01', 3, 'p1', 1000, NULL, NULL, NULL),
      (2, 2, 'repot', '2020-08-02', 1, 1, '2020-07-01', 3, 'p2', 1000, 'cancelled', 'p1', 2000);
    INSERT INTO recipe_layers VALUES (1, 1, 1, 0, 'base', 50);
    INSERT INTO recipe_layer_parts VALUES (1, 0, 'sand', 2, 1);
    INSERT INTO materials VALUES ('sand', 3.5, 25);
    INSERT INTO mixing VALUES (1, 0.1);
    INSERT INTO calendar_feeds VALUES (1, 'p1', '${'0'.repeat(64)}', 1000, 1500, NULL),
      (2, 'p1', '${'1'.repeat(64)}', 1000, NULL, 2000);
  `,
  18: `
    INSERT INTO care_versions SELECT max(id) + 1, 1, 'de', 'Altes Beispiel', '', NULL, 'p1', 1000 FROM care_versions;
    INSERT INTO care_version_texts SELECT max(id), 'water', 'Ein Ende feucht halten.' FROM care_versions;
    INSERT INTO care_version_terms SELECT max(id), 'soil', 'Erde' FROM care_versions;
    INSERT INTO order_care_sheets SELECT 1, 1, 0, 1, max(id), 'de', 'metric', 'A4', 'Old Bench', '{}', 'p1', 1000
      FROM care_versions;
  `,
  19: `
    INSERT INTO boxes VALUES (1, 'Small', 200, 150, 100, 20, 0.035, 'a sheet', NULL, NULL, 120, 350, 12, '', 1000, NULL);
    INSERT INTO box_logs VALUES (1, 1, 1000, 4186, '[[0,40,20],[1,38,20]]', 0.24, 0.01, 0.22, 0.26, 'p1', 1000);
    UPDATE boxes SET conductance_w_per_k = 0.24, conductance_log_id = 1;
    INSERT INTO packs VALUES (1, 'Warm', 'heat', 90, 4, 40, 1, NULL, NULL, NULL, NULL, 5, 1, 150, 30, 'the maker', '', 1000,
      NULL), (2, 'Cold', 'melting', 300, NULL, NULL, NULL, 5, 227000, 2100, 4, 3, 2, 300, NULL, 'a sheet', '', 1000, 2000);
  `,
  20: `
    INSERT INTO weather_places VALUES (1, 'Home', '10115', 'origin', 52.5, 13.4, 1000, NULL);
    INSERT INTO weather_days VALUES (1, '2020-07-01', 'the radio', 12, 24.5, 1000, 'page', 'p1', 1000);
    INSERT INTO weather_services VALUES ('met.no', 1, 'https://forecast.example.org', 'bench@example.org', 1000, 2000);
    INSERT INTO weather_fetches VALUES (1, 'met.no', 1000, 4600, 'Wed, 01 Jul 2020 06:00:00 GMT', 0, NULL);
  `,
  21: `
    INSERT INTO link_key VALUES (1, x'${'00'.repeat(32)}', 1000);
    INSERT INTO order_links VALUES (1, 1, x'0000000000000001', 5000, 'p1', 1000, 'p1', 2000),
      (2, 1, x'0000000000000002', 9000, NULL, 2000, NULL, NULL);
    INSERT INTO arrival_habits VALUES (1, 2, 2, 2, 90);
    INSERT INTO arrival_reports VALUES (1, 1, 2, 1, 'form-0123456789ab', 3000, NULL, NULL),
      (2, 1, 2, 0, 'form-1123456789ab', 3500, 'p1', 4000);
    INSERT INTO arrival_losses VALUES (2, 1, 14, 2, 1);
    INSERT INTO arrival_words VALUES (2, 'Two lay still in the morning.');
    INSERT INTO arrival_photos VALUES (1, 2, 640, 480, '${'0'.repeat(64)}');
    INSERT INTO arrival_photo_files VALUES (1, x'ffd8');
    INSERT INTO amends VALUES (1, 1, 'refund', 250, NULL, 'two dead', 'p1', 4000, 'p1', 4100),
      (2, 1, 'credit', 300, NULL, 'two dead, one missing', 'p1', 4200, NULL, NULL);
    INSERT INTO trips VALUES (1, 1, 1, 1, 9.5, 22, 0, 0, 26, 'p1', 2000), (2, 1, NULL, NULL, 3, 22, 4, 0, 50, 'p1', 2500);
  `,
  22: `
    INSERT INTO put_offs VALUES (2, 1, 'retire', '2020-07-04', 'still gives', 'p2', 1000, NULL, NULL);
    INSERT INTO start_put_offs SELECT 1, species_id, '2020-07-03', 'no medium left', 'p2', 1000, NULL, NULL
      FROM feeder_species LIMIT 1;
    INSERT INTO diary (culture_id, on_day, kind, withdrawn, note, via, made_by, made_at, looked_for, substrate)
      VALUES (1, '2020-07-02', 'check', 0, '', 'page', 'p1', 1000, 'no-young', 'mixed');
  `,
  23: `
    INSERT INTO arrival_reports VALUES (3, 1, NULL, 'p1', 1, 'form-2123456789ab', 4500, 'p1', 4500);
  `,
  25: `
    BEGIN;
    INSERT INTO invoicing VALUES (1, 'OLD-', 7, 'DE000000000', 14, 'To the account you know.', 0, '', '', '', 10, 3);
    INSERT INTO tax_rates VALUES (1, 'VAT', 19000, 'included', 1, 1, '2020-01-01', '2026-12-31', 1000, NULL),
      (2, 'Sales tax', 8875, 'added', 1, 0, '2020-01-01', NULL, 1000, 2000);
    INSERT INTO payment_ways VALUES (9, 'Cheque', 2000);
    INSERT INTO invoice_lines VALUES (7, 0, 'goods', 'old example', 'Exemplum vetus', '10 adults', 1, 1250, 1250),
      (7, 1, 'carriage', 'Postage', '', '', 1, 500, 500), (8, 0, 'goods', 'Two dead', '', '', 1, -250, -250);
    INSERT INTO invoice_taxes VALUES (7, 0, 'VAT', 19000, 'included', 1, 1, 1471, 279),
      (8, 0, 'VAT', 19000, 'included', 1, 1, -210, -40);
    INSERT INTO invoice_buyers VALUES (7, 'Carla Customer', 'Exampletown', 'DE'), (8, 'Carla Customer', 'Exampletown', 'DE');
    INSERT INTO invoices VALUES (7, 'OLD-0007', 'invoice', 1, NULL, NULL, 'EUR', '2020-07-01', '2020-07-01', '2020-07-15', 'en',
      'en-GB', 'A4', 'Old Bench', '1 Example Lane', 'bench@example.org', 'DE000000000', '', '', '', 1471, 279, 1750, 'p1', 1000);
    INSERT INTO invoices VALUES (8, 'OLD-0008', 'credit', 1, 7, 1, 'EUR', '2020-07-03', '2020-07-01', NULL, 'en',
      'en-GB', 'A4', 'Old Bench', '1 Example Lane', 'bench@example.org', 'DE000000000', '', '', 'two dead', -210, -40, -250,
      'p1', 2000);
    INSERT INTO payments VALUES (1, 1, 'payment', 1750, 1, '2020-07-05', 'her sister paid', 'p1', 1000, NULL, NULL),
      (2, 1, 'refund', 250, 2, '2020-07-06', '', 'p1', 2000, 'p1', 3000);
    INSERT INTO customers (id, name, email, phone, street, postcode, city, region, country, units, paper, note, made_at,
      retired_at, erased_at) VALUES (2, 'Erased customer 2', '', '', '', '', '', '', 'DE', 'metric', 'A4', '', 1000, 2000, 2000);
    INSERT INTO erasures VALUES (1, 2, 1000, 2000, 'p1', 1);
    COMMIT;
  `,
  26: `
    INSERT INTO cultures (id, code, species_id, morph, line_id, enclosure_id, place_id, founded_on, origin,
      founding_animals, founding_sd_log, status, note, made_by, made_at, taken_back_at)
      VALUES (1000, 'GONE-1', 1, '', 1, 1, 2, '2020-06-02', 'split', 12, 0.1, 'retired', '', 'p2', 1001, 2000);
  `,
  27: `
    INSERT INTO cups VALUES (1, 'Round cup', 90, 90, 60, 8, '', 1000, NULL), (2, 'Old cup', 70, 70, 40, NULL, '', 1000, 2000);
    INSERT INTO species_packing VALUES (1, 1, 12, 150, 'pin holes', 'moss');
    INSERT INTO group_packing VALUES ('isopod', 2, NULL, '', 'leaves');
    INSERT INTO packing_habits VALUES (1, 1, 40, '0106.49');
  `,
  28: `
    INSERT INTO carriers VALUES (1, 'Old Post', '15:30', '123', '12345', 'DE', 'BY', 1, '18:00', 24, 6, 8, 3, 2, 1, 250, 24,
      20, 1, '', 1000, NULL), (2, 'Older Post', NULL, '1', '6', 'GB', NULL, 2, '12:00', 24, 6, 8, 0, 0, 0, 0, 0, 20, NULL, '',
      1000, 2000);
    INSERT INTO weather_areas VALUES (1, 1, 'DE', '', 1000), (2, 1, 'DE', '10', 1000);
    INSERT INTO parcel_habits VALUES (1, 1, 1, '14:00', 20, 60, 0.3, 3000, 1.5, 0.5, 24);
    INSERT INTO order_parcels VALUES (1, 1, 2, '2020-07-05', 'p1', 1000);
    INSERT INTO parcel_choices VALUES (1, 1, '2020-07-01', '2020-07-02', '15:30', 1, 1, NULL, 0, 0, NULL, 9.5, 22, 0, 0, 26,
      '{}', NULL, NULL, NULL, 'p1', 1000, NULL, 'p1', 2000),
      (2, 1, '2020-07-02', '2020-07-03', NULL, 2, 1, 1, 1, 1, 'she asked for it', 5, 22, 2, 0, 26, '{}', '2020-07-01', 1,
      'one-step', 'p1', 2000, 2500, NULL, NULL);
  `,
  29: `
    INSERT INTO movement_rules VALUES (1, 'Old rule', 'US', 'US-TX', 'US', 'US-CA', 'region', 'genus', NULL, 'Exemplum', NULL,
      'permit', 'Only with a permit.', 'an office of example.org', '2020-07-01', 'P-1', '2021-07-01', 1000, NULL),
      (2, 'Older rule', NULL, NULL, NULL, NULL, 'country', 'species', NULL, NULL, 1, 'warn', 'Ask first.', 'example.org', NULL,
      '', NULL, 1000, 2000),
      (3, 'Group rule', 'DE', NULL, NULL, NULL, 'any', 'group', 'isopod', NULL, NULL, 'block', 'Not at all.', 'example.org',
      '2020-07-01', '', NULL, 1000, NULL);
    INSERT INTO movement_origin VALUES (1, 'DE-BY');
  `,
  30: `
    INSERT INTO second_factors VALUES ('p1', '${'A'.repeat(32)}', 1000, 33, 1000), ('p2', '${'B'.repeat(32)}', NULL, 0, 1000);
    INSERT INTO recovery_codes VALUES ('c1', 'p1', NULL, 1000), ('c2', 'p1', 1500, 1000);
    INSERT INTO half_sign_ins VALUES ('h1', 'p1', 'print', 1000);
    INSERT INTO sign_in_rules VALUES (1, 'owners');
    INSERT INTO audit VALUES (2, 1000, 'p1', 'changed', 'business', NULL, NULL, 'salt', 'body', 'chain');
  `,
  31: `
    INSERT INTO climate_keeping VALUES (1, 90, 1000);
    INSERT INTO climate_closed_days VALUES (1, '2020-06-30', 2, 2000);
  `,
  32: `
    INSERT INTO offer_list VALUES (1, 1, 0, 1, 5);
    INSERT INTO unlisted_species VALUES (1, 1000);
    INSERT INTO order_requests VALUES (1, 'form-0123456789ab', 'new', 'Rita Reader', 'rita@example.org', '', '', '', '', 'DE',
      'de', 'for a school', 'EUR', NULL, 1000, NULL, NULL),
      (2, 'form-1123456789ab', 'taken', 'Rita Reader', 'rita@example.org', '', '', '', '', 'DE', 'en', '', 'EUR', 1, 1000,
      'p1', 2000),
      (3, 'form-2123456789ab', 'refused', '', '', '', '', '', '', '', 'es', '', 'EUR', NULL, 1000, 'p1', 2000);
    INSERT INTO order_request_lines VALUES (1, 1, 2, 1250), (2, 1, 1, 1250);
  `,
  33: `
    INSERT INTO mails VALUES (2, 'warning', 'warning disk 2020-07-01', NULL, 'Old Bench', 'bench@example.org', 'en', 'Full',
      'Full', '<p>Full</p>', 0, '<2@example.org>', 'waiting', 0, 1000, 2000, '', NULL, NULL, 1000);
  `,
  34: `
    INSERT INTO mails VALUES (3, 'requests', 'requests 2020-07-01 14', NULL, 'Old Bench', 'bench@example.org', 'en', 'One asks',
      'One asks', '<p>One asks</p>', 0, '<3@example.org>', 'waiting', 0, 1000, 2000, '', NULL, NULL, 1000);
  `,
  36: `
    INSERT INTO mails VALUES (4, 'account', 'account device p1 1000', NULL, 'Olive', 'olive@example.org', 'en', 'Signed in',
      'Signed in', '<p>Signed in</p>', 0, '<4@example.org>', 'waiting', 0, 1000, 2000, '', NULL, 'p1', 1000);
  `,
  37: `
    INSERT INTO first_steps_away VALUES (1, 'p1', 1000);
  `,
  38: `
    INSERT INTO personal_reads VALUES (1, '2020-07-01', 1000, 'p1', 'customer 1', 'page');
  `,
  39: `
    INSERT INTO clock_seen VALUES (1, 2000, 1000);
  `,
  40: `
    INSERT INTO personal_reads VALUES (2, '2020-07-01', 1000, NULL, 'export of everything', 'command');
  `,
};

/** The diary names orders, which came with schema 3: before that nothing could be written into it. */
export const stillEmpty: Record<number, readonly string[]> = { 2: ['diary'] };
