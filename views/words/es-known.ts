import type { Words } from './en.ts';

/** Whence the numbers on customers' pages are known, in Spanish. */
export const esKnown: Words['known'] = {
  ask: '¿Cómo lo sabemos?',
  arrives: 'Debería llegar el {day}, si el transportista cumple sus plazos.',
  counter:
    'Debería estar listo para usted en el punto de recogida el {day}, si el transportista cumple sus plazos.',
  dayChosen:
    'El día: elegimos uno en el que el transportista sale y la previsión del tiempo es buena para los animales. Una previsión más reciente puede cambiarlo; entonces le escribimos.',
  arrival:
    'La llegada: el día de salida y los días que necesita el transportista. Sus días de descanso están contados.',
  inside:
    'La temperatura: según la previsión, dentro de la caja se mantiene a {inside}, aunque haga más frío o más calor de lo previsto o el paquete se retrase. Todos los animales que van dentro soportan {borne}. Las previsiones pueden fallar, así que no es una promesa.',
  animals:
    'Los animales: grupos × animales de un grupo. Si creemos que alguno puede no resistir el viaje, ponemos unos cuantos más de los pedidos.',
  until:
    'Hasta cuándo aceptamos avisos: el paquete salió el {sent}; por lo general {onWay} de camino y {more} para mirar los animales.',
  days: { one: '{count} día', other: '{count} días' },
  spare:
    'Cuántos sobran: contamos y estimamos con prudencia cuántos animales viven en cada cultivo. Quedan bastantes para seguir criando, y se resta lo prometido a otros. Con el resto se forman grupos completos.',
  mostShown: 'Si hay más de {most} grupos, no decimos cuántos.',
  ready:
    'Cuándo estarán listos los siguientes: por cómo se han reproducido hasta ahora calculamos la primera semana en que puede salir un grupo más. Es una previsión, no una promesa.',
  price: 'El precio es por un grupo de los animales indicados. El envío se añade aparte.',
  priceHeld:
    'El precio es por un grupo de los animales indicados, impuestos incluidos. El envío se añade aparte.',
  priceAdded:
    'El precio es por un grupo de los animales indicados. Los impuestos y el envío se añaden aparte.',
  changes: 'Un nuevo recuento o el pedido de otra persona cambia los números al momento.',
};
