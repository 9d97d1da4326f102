/**
 * What customers read, in English: the pattern for the other languages. A name in curly brackets is filled in; an entry
 * with `one` and `other` is said of a number of things, which stands for {count}.
 */
export const en = {
  dates: {
    long: '{weekday} {date} {month} {year}',
    short: '{weekday} {date} {month} {year}',
    longInAmerica: '{weekday}, {month} {date}, {year}',
    shortInAmerica: '{weekday}, {month} {date}, {year}',
  },
  counts: {
    animals: { one: '{count} animal', other: '{count} animals' },
    groups: { one: '{count} group', other: '{count} groups' },
  },
  units: {
    range: '{low} to {high}',
    under: 'under {least}',
    inch: 'in',
    quart: 'qt',
    cup: 'cup',
    cups: 'cups',
    tablespoon: 'tbsp',
    teaspoon: 'tsp',
  },
  /** The foot of every page. */
  paper: {
    page: 'page {page} of {pages}',
    overall: 'sheet {number} of {count} in this print',
    whom: 'for {name}',
    order: 'order {number}',
    packed: 'packed {day}',
    printed: '{business}, printed {day}',
    gaps: '{marker} stands for characters this print cannot show',
  },
  care: {
    title: 'Care sheet',
    sheet: 'Care sheet, {name}',
    titleOfOne: 'Care sheet: {name}',
    titleOfMany: 'Care sheets: {names}',
    forAnybody: 'for whoever keeps them',
    line: 'Line {line}',
    packed: 'Packed {day}',
    setUp: 'Set it up like this',
    drawn: '{what}. Drawn to scale.',
    recipe: 'Substrate for one enclosure',
    loose: 'Measured loose: it settles.',
    fills: 'fills {volume}',
    enclosure: 'Enclosure',
    substrate: 'Substrate',
    water: 'Water',
    food: 'Food',
    breeding: 'Breeding',
    temperature: 'Temperature',
    normal: 'This is normal',
    notNormal: 'This is not normal',
    cautions: 'Cautions',
    noRelease:
      'Never release them, their eggs or used substrate outdoors: captive stock can spread and do harm.',
    wash: 'Wash your hands after work in the enclosure. Droppings and shed skins can trigger allergies; with a rash, a cough or itching eyes stop, and ask a doctor.',
    law: 'Laws on keeping, selling and sending such animals differ from place to place. Ask the authority where you live.',
  },
  drawing: {
    high: '{length} high',
    across: '{diameter} across, {high}',
    acrossTopAndBottom: '{top} across the top, {bottom} across the bottom, {high}',
    section: 'Section through the enclosure ({measures}), from the bottom up: {layers}.',
    layer: '{name}, {depth}',
    free: 'free space, {depth}',
    freeSpace: 'Free space',
    air: 'Air: {words}',
    ventilation: 'Ventilation: {words}.',
    lid: 'Lid',
    moist: 'moist',
    drier: 'drier',
    moistLeft: 'The left third is kept moist.',
    moistRight: 'The right third is kept moist.',
  },
  temperatures: {
    scale: 'Temperature scale. {limits}',
    ideal: 'Ideal {range}.',
    safe: 'Safe {range}.',
    deadly: 'Deadly below {low} and above {high}.',
    deadlyBelow: 'deadly below',
    safeFrom: 'safe from',
    idealFrom: 'ideal from',
    idealTo: 'ideal to',
    safeTo: 'safe to',
    deadlyAbove: 'deadly above',
  },
  /** What to do when the box arrives; common practice, no source. */
  arrival: {
    inTheBox: 'In this box',
    reach: 'Reach us at {address}',
    scan: 'Scan to tell us how they arrived',
    title: 'When the box arrives',
    unpack: 'Unpack',
    unpackWords:
      'Open the box the same day, indoors and out of the sun. Take heat and cold packs away from the cups.',
    settle: 'Let them settle',
    settleWords:
      'Leave the cups closed at room temperature for an hour or two, so that they warm up or cool down slowly.',
    water: 'Water',
    waterWords:
      'Moisten one side of the new home. Then put the animals in with whatever they travelled in. Never pour water into a cup.',
    worry: 'When to worry',
    worryWords:
      'Many lie still after the journey. If they do not move after a night at room temperature, or several are dead, take a photo and write to us the same day.',
  },
  /** The customer's own page of an order, and what it says of what cannot be done. */
  page: {
    title: 'Order {number}',
    from: 'from {business}',
    draft: 'We are still putting your order together.',
    confirmed: 'Your animals are reserved for you.',
    packed: 'Your animals are packed.',
    leaves:
      'The parcel is to leave on {day}. If the weather on the way is not safe for them, it waits, and we write to you.',
    sent: 'On its way since {day}.',
    closed: 'It left us on {day}.',
    cancelled: 'This order was cancelled.',
    tracking: 'Number of the parcel',
    follow: 'Follow the parcel',
    careSheets: 'Care sheets (PDF)',
    readBefore: 'Please read them before the parcel arrives, and have the enclosure ready.',
    cautions: 'Please mind',
    contact: 'Questions',
    ask: 'How did they arrive?',
    askSoon: {
      one: 'Please tell us within an hour of delivery, with a photo if any are dead. We take reports until {day}.',
      other:
        'Please tell us within {count} hours of delivery, with a photo if any are dead. We take reports until {day}.',
    },
    notYet: 'Once the parcel is on its way, you can tell us here how they arrived.',
    over: 'Reports were taken until {day}. If something is wrong, write to us.',
    allWell: 'All arrived well',
    someNot: 'Some are dead or missing',
    someNotHelp: 'Write a number only where something is wrong.',
    dead: 'Dead',
    missing: 'Missing',
    ofSent: { one: 'of {count} sent', other: 'of {count} sent' },
    note: 'Note (if you like)',
    photos: 'Photos (if you can)',
    photosHelp:
      'Up to three: JPEG, PNG, WebP or AVIF, at most 10 MB each. Where and with what they were taken is not kept.',
    send: 'Send the report',
    change: 'Change the report',
    saidWell: 'Thank you. You told us on {when} that all arrived well.',
    saidLosses: 'Thank you. You told us on {when}:',
    saidDead: { one: '{count} dead', other: '{count} dead' },
    saidMissing: { one: '{count} missing', other: '{count} missing' },
    saidPhotos: { one: '{count} photo is with us', other: '{count} photos are with us' },
    weAnswer: 'We look at it and write to you.',
    mend: 'Not sent yet. What to mend:',
    wholeNumber: 'Write a whole number.',
    tooMany: 'That is more than the {sent} that were sent.',
    nothingWrong: 'Write how many are dead or missing, or choose that all arrived well.',
    tooLong: 'Use at most 2000 characters.',
    photosAgain: 'Please choose the other photos again as well: the browser does not keep them.',
    photoTooLarge: 'A photo is larger than 10 MB. Send a smaller one, or a screenshot of it.',
    photoTooMany: 'Send at most three photos at once.',
    photoNone: 'A file is no photo that can be read. Send a JPEG, PNG, WebP or AVIF.',
    photoHeic:
      'A photo is in the HEIC format, which cannot be read here. Send a screenshot of it, or set the camera to the most compatible format.',
    photoPixels: 'A photo has too many pixels. Send a smaller one, or a screenshot of it.',
    photoSmall: 'A photo is too small to see anything on it.',
    photoDamaged: 'A photo is damaged or did not arrive whole. Send it again, or another.',
    enough: 'That is as much as can be sent here. Please write to us.',
    goneTitle: 'Nothing here',
    gone: 'This address opens nothing, or nothing any more. Look in our latest mail, or write to us.',
    busyTitle: 'Too many requests',
    busy: 'Please wait a minute, then try again.',
    faultTitle: 'That did not work',
    fault: 'Nothing was saved. Please go back and try again, or write to us.',
  },
  /** Letters to customers about their order. */
  mail: {
    dear: 'Dear {name},',
    regards: 'With kind regards',
    groups: { one: '{count} group', other: '{count} groups' },
    adults: { one: '{count} adult', other: '{count} adults' },
    juveniles: { one: '{count} juvenile', other: '{count} juveniles' },
    line: '{groups} of {species}, each of {animals}',
    lineOfOne: '{groups} of {species}: {animals}',
    and: '{adults} and {juveniles}',
    confirmedSubject: 'Order {number} is confirmed',
    confirmed: 'Thank you for your order. These animals are set aside for you:',
    total: 'With postage, that is {amount}.',
    leaves:
      'We mean to send the parcel on {day}. Should the weather on its way be unsafe for the animals, it waits, and we write to you.',
    noDay: 'We write to you again once the day of sending is set.',
    beThere:
      'Please make sure that somebody can take the parcel in on the day it arrives. It must not stand in the sun or in the frost.',
    sentSubject: 'Order {number} is on its way',
    sent: 'Your parcel left us on {day}.',
    tracking: 'Number of the parcel: {number}',
    follow: 'Follow the parcel',
    careEnclosed:
      'The care sheets are enclosed. Please read them before the parcel arrives, and have the enclosure ready.',
    heldSubject: 'Order {number} waits for safer weather',
    held: 'The weather on the way would not be safe for the animals of your order, so the parcel waits. Until then they stay with us and are cared for.',
    heldUntil: 'We now mean to send it on {day}.',
    testSubject: 'Test of the mail server',
    test: 'This mail shows that {business} can write to its customers.',
  },
} as const;

export type En = typeof en;

/** The same entries in another language. */
export type Words = {
  readonly [G in keyof En]: {
    readonly [K in keyof En[G]]: En[G][K] extends string
      ? string
      : { readonly one: string; readonly other: string };
  };
};
