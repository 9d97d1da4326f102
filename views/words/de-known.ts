import type { Words } from './en.ts';

/** Whence the numbers on customers' pages are known, in German. */
export const deKnown: Words['known'] = {
  ask: 'Woher wissen wir das?',
  arrives: 'Es sollte am {day} ankommen, wenn der Paketdienst seine Zeiten einhält.',
  counter: 'Es sollte am {day} am Schalter für Sie bereitliegen, wenn der Paketdienst seine Zeiten einhält.',
  dayChosen:
    'Der Tag: Wir wählen einen, an dem der Paketdienst fährt und die Wettervorhersage für die Tiere gut genug ist. Eine neuere Vorhersage kann ihn ändern; dann schreiben wir Ihnen.',
  arrival:
    'Die Ankunft: der Tag des Versands und die Tage, die der Paketdienst braucht. Seine Ruhetage sind eingerechnet.',
  inside:
    'Die Temperatur: Nach der Vorhersage bleibt es in der Kiste bei {inside}, auch wenn es kälter oder wärmer wird als vorhergesagt oder das Paket sich verspätet. Alle Tiere darin vertragen {borne}. Vorhersagen können falsch sein, deshalb ist das keine Zusage.',
  animals:
    'Die Tiere: Gruppen × Tiere in einer Gruppe. Wo wir damit rechnen, dass manche die Reise nicht überstehen, legen wir einige mehr als bestellt dazu.',
  until:
    'Wie lange wir Meldungen annehmen: Das Paket ging am {sent} ab; in der Regel {onWay} für den Weg und {more}, um nach den Tieren zu sehen.',
  days: { one: '{count} Tag', other: '{count} Tage' },
  spare:
    'Wie viele übrig sind: Wir zählen und schätzen vorsichtig, wie viele Tiere in jeder Zucht leben. Es bleiben genug, um sich weiter zu vermehren, und was anderen zugesagt ist, geht ab. Der Rest ergibt ganze Gruppen.',
  mostShown: 'Sind es mehr als {most} Gruppen, sagen wir nicht, wie viele.',
  ready:
    'Wann die nächsten so weit sind: Aus der bisherigen Vermehrung rechnen wir die erste Woche aus, in der eine weitere Gruppe gehen kann. Das ist eine Vorhersage, keine Zusage.',
  price: 'Der Preis gilt für eine Gruppe der genannten Tiere. Der Versand kommt hinzu.',
  priceHeld:
    'Der Preis gilt für eine Gruppe der genannten Tiere, die Steuer ist darin. Der Versand kommt hinzu.',
  priceAdded: 'Der Preis gilt für eine Gruppe der genannten Tiere. Steuer und Versand kommen hinzu.',
  changes: 'Eine neue Zählung oder eine andere Bestellung ändert die Zahlen sofort.',
};
