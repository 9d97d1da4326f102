/** The cautions that hold for every captive invertebrate, and need not be written for each (common practice, no source). */
export const standingCautions: readonly string[] = [
  'Never release them, their eggs or used substrate outdoors: captive stock can spread and do harm.',
  'Wash your hands after work in the enclosure. Droppings and shed skins can trigger allergies; with a rash, a cough or itching eyes stop, and ask a doctor.',
  'Laws on keeping, selling and sending such animals differ from place to place. Ask the authority where you live.',
];
