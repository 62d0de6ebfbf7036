# Español. Los mismos mensajes que en `en.ftl`.

## Dates and figures

weekday = { $weekday ->
    [0] lunes
    [1] martes
    [2] miércoles
    [3] jueves
    [4] viernes
    [5] sábado
   *[6] domingo
}
month = { $month ->
    [1] enero
    [2] febrero
    [3] marzo
    [4] abril
    [5] mayo
    [6] junio
    [7] julio
    [8] agosto
    [9] septiembre
    [10] octubre
    [11] noviembre
   *[12] diciembre
}
points = { $number } puntos
north = N

## Pages

report-title = Informe: { $title }
cards-title = Hojas de recorrido: { $title }
contents = En esta página
nav-evenness = Reparto
nav-undone = Sin hacer
nav-timeline = Horario
nav-maps = Planos
nav-people = Personas
nav-rooms = Locales
nav-assumptions = Supuestos
away = Ausentes
not-sound = Plan no válido.
not-sound-do = No trabaje con estas hojas hasta que se corrija.
sound-all = Todo el trabajo previsto está planificado.
sound-rules = Se cumplen todas las reglas.
sound-undone = Quedan sin hacer { $time } de trabajo.
sound-undone-see = Vea qué y por qué.

## Evenness

evenness-head = Cómo se reparte el trabajo
highest = máximo
lowest = mínimo
range = diferencia
deviation = desviación estándar
bound = límite demostrado
gap = distancia al límite
not-cleaning = sin limpiar
not-cleaning-is = { $is } (ningún plan baja de { $least })
bound-lead = Nadie podría bajar el recorrido más largo, el de { $name }, de { $least }; el de este plan es de { $load }.
bound-share = Nadie podría bajar la ocupación más alta de { $bound } ({ $least } de los { $available } que tiene { $name }); la de este plan es { $share } ({ $load }).
bound-unknown = El recorrido más largo es el de { $name }: { $share } ({ $load }). No se conoce un límite para él.
bound-nobody = No hay nadie presente, así que no hay nada que repartir.
bound-made-of = De qué se compone el límite
bound-part = Lo que ningún plan puede evitar
share-is = Ocupación: tiempo ocupado sobre tiempo disponible (turno menos descansos y reserva).
share-bound = La línea discontinua es el límite demostrado, { $bound }: ningún plan que haga este trabajo podría bajar de ahí el recorrido más largo.
share-columns = Trabajo (con preparar y recoger), caminar, agua (con vaciados y máquinas) y espera, en minutos. Esperar entre paradas no cuenta como carga.
share-of = { $share } ({ $load } de { $available })
col-worker = Persona
col-share = Ocupación
col-bar = de 0 a { $most }
col-load = Carga
col-work = Trabajo
col-walk = Caminar
col-fill = Agua
col-wait = Espera
col-floors = Plantas
col-minutes = Minutos

## Undone

undone-nothing = Nada: todo el trabajo previsto está en algún recorrido.
undone-nobody = nadie de los presentes puede hacerlo: { $why }
undone-no-window = no cabe en ningún turno y horario: { $why }
undone-too-late = ya era tarde esa noche: { $why }
undone-no-time = no hay tiempo junto a trabajo que importa lo mismo o más
priority-health = salud
priority-expected = esperado
priority-appearance = aspecto
priority-duty = encargo
col-place = Lugar
col-left = Sin hacer
n-places = { $count ->
    [one] 1 lugar
   *[other] { $count } lugares
}
n-more-places = { $count ->
    [one] 1 lugar más
   *[other] { $count } lugares más
}
n-broken = { $count ->
    [one] 1 regla incumplida
   *[other] { $count } reglas incumplidas
}

## Timeline

timeline-note = Una fila por persona. Señale o toque una marca para ver sus horas.
timeline-runs = Todos los recorridos, hora a hora
panel-also = Todas las horas están también en las tablas de abajo.
marks = Marcas
mark-work = trabajo
mark-walk = caminar
mark-fill = agua limpia
mark-dump = vaciar
mark-machine = máquina
mark-setup = preparar, recoger
mark-break = descanso
mark-wait = espera
shift-of = Turno de { $name }, { $shift }
walk-to = Ir a { $place }, { $time }
groups-head = ¿Hay siempre uno abierto? Locales de los que algunos deben seguir abiertos
groups-note = Barra llena: todos los locales del grupo están abiertos. Rayado desde arriba: esa parte del grupo está cerrada. La línea es lo que debe seguir abierto.
group-row = { $name }: al menos { $keep } de { $rooms } deben seguir abiertos; mínimo abierto: { $fewest }
group-all = { $name }: los { $rooms } abiertos donde no hay rayado
group-open = { $name }: { $open } de { $rooms } abiertos, { $times }
closed-head = Locales cerrados mientras se limpian
closed-note = Rayado: cerrado al público, desde la primera parada de una visita hasta que se vuelve a abrir.

## Maps

maps-head = Planos de las plantas
map-schematic = Los locales están dibujados junto a sus puertas a lo largo de los pasillos. Los contornos son esquemáticos: tan anchos como permiten las puertas vecinas, tan hondos como pide la superficie. No son un plano de paredes ni de salidas de emergencia.
map-laid-out = El edificio no trae dibujo de algunos pasillos. Aquí se colocan según cómo se unen: las longitudes son correctas, las direcciones no.
map-title = Planta { $floor }: quién hace qué locales
map-desc = { $name }: { $rooms }.
map-run = Planta { $floor }: recorrido de { $name }, con los números de sus paradas
map-who = Quién hace qué locales
map-signs = Signos
map-water = agua limpia
map-waste = basura
map-stairs = escalera
map-lift = ascensor
map-spot = entrada u otro lugar
map-wet = baño o vestuario
map-route = camino recorrido
floor-head = Planta { $floor }

## People and rooms

people-head = Recorridos, persona por persona
people-note = Los números son los de los planos. Abra «a pie» para ver el camino.
rooms-head = Locales
stops-of = Paradas de { $name } por orden
no-stops = Sin paradas en este turno ({ $shift }).
not-due = nada previsto
col-number = N.º
col-time = Hora
col-where = Dónde
col-what = Qué
col-where-what = Dónde y qué
col-room = Local
col-floor = Planta
col-who = Quién
col-when = Cuándo
col-done = Hecho
on-floor = planta { $floor }
with-cart = con carro
on-foot = a pie
fact-shift = turno
fact-run = recorrido
fact-share = ocupación
fact-going = va
fact-floors = plantas
fact-start = empieza y termina en
fact-breaks = descansos

## What is done at a stop

do-start = Empezar
do-end = Terminar
do-set-up = Preparar
do-tear-down = Recoger
do-close-clean = Cerrar y limpiar
do-clean = Limpiar
do-close-spray = Cerrar y rociar
do-spray = Rociar
do-wipe-mop = Pasar el paño y fregar
do-wipe = Pasar el paño
do-reopen = Volver a abrir
do-fill = Agua limpia
do-dump = Vaciar el carro
do-fetch = Recoger { $machine }
do-return = Devolver { $machine }
do-break = Descanso: { $name }
half-spray = rociar ({ $tasks })
half-wipe = pasar el paño ({ $tasks })
wait-spray = El producto aún actúa: llega a las { $arrive }, pase el paño desde las { $begin }.
wait-dry = El suelo aún se seca: llega a las { $arrive }, abra desde las { $begin }.
wait-break = { $time } libres antes del descanso: llega a las { $arrive }, descanso desde las { $begin }.
wait-begin = Llega a las { $arrive }; empiece a las { $begin } o después ({ $time } libres).

## What is there

n-bowls = { $count ->
    [one] 1 inodoro
   *[other] { $count } inodoros
}
n-urinals = { $count ->
    [one] 1 urinario
   *[other] { $count } urinarios
}
n-basins = { $count ->
    [one] 1 lavabo
   *[other] { $count } lavabos
}
n-mirrors = { $count ->
    [one] 1 espejo
   *[other] { $count } espejos
}
n-dispensers = { $count ->
    [one] 1 dispensador
   *[other] { $count } dispensadores
}
n-showers = { $count ->
    [one] 1 ducha
   *[other] { $count } duchas
}
n-bins = { $count ->
    [one] 1 papelera
   *[other] { $count } papeleras
}
n-desks = { $count ->
    [one] 1 mesa
   *[other] { $count } mesas
}
n-sinks = { $count ->
    [one] 1 fregadero
   *[other] { $count } fregaderos
}
n-glass = { $count ->
    [one] 1 cristal
   *[other] { $count } cristales
}
n-couches = { $count ->
    [one] 1 camilla
   *[other] { $count } camillas
}

## What to mind at a stop

note-dwell = Mojado { $time } o más (decide la etiqueta); paño a las { $then }.
note-dries-opens = Se seca en { $time } o más; abrir a las { $then } si está seco.
note-dries = Se seca en { $time } o más; señal hasta que seque.
note-halves = Vía de salida: friegue una mitad, deje que se seque y luego la otra.
note-water-only = Solo para { $place }.
note-water-for = Para { $place }.
note-next-water = Próxima agua limpia: { $place }, { $then }.
note-water-trips = { $count ->
    [one] Incluye tiempo para 1 viaje a cambiar el agua.
   *[other] Incluye tiempo para { $count } viajes a cambiar el agua.
}
note-waste-trips = { $count ->
    [one] Incluye tiempo para 1 viaje a vaciar el carro.
   *[other] Incluye tiempo para { $count } viajes a vaciar el carro.
}

## The way

walk-time = a pie { $time }
walk-to-floor = a pie { $time }, a la planta { $floor }
walk-stay = quédese
walk-across = al otro lado del pasillo hasta { $end }
walk-near = hasta { $end }
walk-legs = { $legs } hasta { $end }
walk-left = a la izquierda por { $hall } { $length }
walk-right = a la derecha por { $hall } { $length }
walk-along = por { $hall } { $length }
walk-way = { $way } hasta { $end }
walk-level = { $way } { $length } hasta { $end }
spot-left = { $hall }, lado izquierdo, a { $length }
spot-right = { $hall }, lado derecho, a { $length }
spot-start = principio de { $hall }
spot-end = final de { $hall }

## Cards

kit-head = Llevar
kit-keys = llaves
kit-close = cerrar locales
kit-wipe = pasar el paño
kit-dry = trabajo en seco
kit-floor = suelos
kit-machines = se recogen de camino
as-at = como en la parada { $number }
defects-head = Visto por el camino
defects-note = Averías, lo que se ha acabado, lo que se dejó y por qué: dónde, qué, cuándo.
mind-head = Atención
mind-of = Precauciones para { $name }
mind-chemicals = Productos químicos
mind-chemicals-do = Siga la etiqueta del producto, también para guantes y gafas. No mezcle nunca productos. El tiempo de contacto es el de la etiqueta, no el de esta hoja.
mind-wet = Suelos mojados
mind-wet-do = Ponga las señales antes de fregar; se quedan hasta que el suelo esté seco. Deje libres de carros, cubos y cables las salidas y los caminos hacia ellas.
mind-sharps = Objetos punzantes, sangre, fluidos corporales
mind-sharps-do = No los toque. No meta nunca la mano en una papelera ni apriete una bolsa. Mantenga alejados a los demás, avise y siga el procedimiento del lugar.
mind-lifting = Levantar peso
mind-lifting-do = Llene cubos y bolsas solo hasta donde pueda llevarlos sin riesgo, levante con la espalda recta y las rodillas dobladas, y pida ayuda si pesa más.
mind-machine = Máquinas
mind-machine-do = Solo si ha recibido formación para usarla. Mire antes el cable y el enchufe; apague y desenchufe antes de cambiar o vaciar algo.
mind-closed = Locales cerrados
mind-closed-do = Llame a la puerta, avise en voz alta y compruebe que el local está vacío antes de cerrarlo; deje la señal puesta hasta que se vuelva a abrir.
mind-alone = Trabajo en solitario
mind-alone-do = Lleve consigo un teléfono o una radio y cumpla las horas de aviso del lugar. Váyase de inmediato si algo no le parece bien.
mind-last = Quién decide
mind-last-do = Las etiquetas de los productos, las normas del lugar y la normativa local están por encima de esta hoja; el trabajo que exige licencia es para quien la tiene. Los tiempos son de planificación: no acorte nunca un tiempo de contacto o de secado para cumplirlos.

## Assumptions

assumptions-note = Los tiempos son de planificación. Las etiquetas de los productos, las normas del lugar y la normativa local están por encima.
figures-used = Reglas y cifras usadas
col-figure = Qué
col-value = Valor
set-setup = preparar
set-tear-down = recoger
set-reserve = libre en cada turno
set-overtime = horas extra como máximo
set-fill = agua limpia
set-dump = vaciar el carro
set-fetch = recoger una máquina, y lo mismo para devolverla
set-band = ocupaciones que cuentan como iguales
set-walking = caminar
walking-counted = se cuenta
walking-free = no se cuenta
set-foot = velocidad a pie
set-cart = velocidad con carro
set-stairs = velocidad en escaleras, subir y bajar
set-zone = zona horaria
zone-none = ninguna: todos los días tienen 24 horas
set-seed = semilla
set-iterations = iteraciones
set-program = programa
sources-of = De dónde salen los minutos de cada tarea
col-source = Fuente
col-tasks = Tareas
source-none = no se indica

## Audit

nav-audit = El reparto de hoy y el mejor
nav-findings = Qué falla hoy
nav-effort = Trabajo duro
nav-rotation = Trabajo duro en varios planes
audit-head = El reparto de hoy: { $site }, { $date }
audit-caption = Cada ronda del reparto de hoy junto a la de la misma persona en el mejor plan encontrado
audit-lead = Hoy de { $least } a { $most }; es posible de { $leastBest } a { $mostBest }.
audit-bound = Ocupación más alta: hoy { $today }, mejor plan encontrado { $best }, límite demostrado { $bound } (diferencia { $gap }).
audit-no-moves = No se encontró una lista corta de cambios que consiga el 80 % de la mejora: conviene mirar el mejor plan entero.
audit-nothing-to-gain = No se gana nada cambiando salas de persona.
audit-moves = { $count ->
    [one] Cambiar esta sala consigue el 80 % de la mejora: la ocupación más alta queda en { $after }.
   *[other] Cambiar estas { $count } salas consigue el 80 % de la mejora: la ocupación más alta queda en { $after }. No se encontró un conjunto menor.
}
audit-moves-smallest = { $count ->
    [one] Cambiar esta sala consigue el 80 % de la mejora: la ocupación más alta queda en { $after }.
   *[other] Cambiar estas { $count } salas consigue el 80 % de la mejora: la ocupación más alta queda en { $after }. Se probaron todos los conjuntos menores y ninguno basta.
}
audit-hands = Salas que cambian de persona
audit-how = La carga es el tiempo ocupado; la ocupación, la carga entre el tiempo disponible. Aquí las rondas de hoy pueden acabar después del turno, y eso figura como norma incumplida.
audit-moves-how = Un conjunto de cambios se juzga poniendo cada sala donde menos cuesta en su nueva ronda y calculando esa ronda con exactitud; se deja fuera todo cambio que no haga falta.
findings-head = Qué falla en el reparto de hoy
findings-none = Nada: se cumplen todas las normas y cada sala es de alguien.
finding-late = comienzo imposible
finding-undone = sin hacer
finding-unassigned = de nadie
finding-twice = de dos personas
late-is = { $worker } debe empezar { $room } a las { $said } y puede a las { $can }
twice-is = { $room }: es de { $first }, y también figura { $also }
effort-head = Lo duras que son las rondas
effort-today = Hoy
effort-best = Mejor plan encontrado
effort-wet = Min en húmedo
effort-restrooms = Min en aseos
effort-steps = Escalones
effort-metres = Metros
effort-waste = Basura l
effort-heavy = Min pesados
effort-counted = Entre paréntesis: parte del total. Húmedo: rociar, limpiar en húmedo, fregar y llenar cubos. Escalones: los subidos entre paradas. Metros: andados en llano entre paradas, sin los viajes en medio de una parada. Basura: litros recogidos; no consta lo que pesan. Pesado: tareas marcadas como pesadas. Se informa, no se optimiza.
rotation-head = Trabajo duro en varios planes
rotation-caption = Suma de todos los planes, parte del total y en cuántos planes la persona tuvo más que nadie
col-rooms-today = Salas hoy
col-load-today = Carga hoy
col-share-today = Ocupación hoy
col-over = De más
col-rooms-best = Salas mejor
col-load-best = Carga mejor
col-share-best = Ocupación mejor
col-from = De
col-to = A
col-finding = Hallazgo
col-shifts = Turnos
n-more-findings = { $count ->
    [one] y uno más igual
   *[other] y { $count } más iguales
}

## Calendar

nav-calendar = Calendario
nav-calendar-work = Qué toca cada día
calendar-head = Calendario del trabajo periódico: { $site }, { $from } a { $to }
calendar-counted = { $turns } turnos de trabajo periódico en { $days } días laborables; { $kept } quedan como están en el archivo del calendario.
calendar-lead = El día más cargado queda al { $share } del tiempo disponible, solo trabajo; sin calendario, al { $before }. Ningún calendario puede bajar de { $bound } (diferencia { $gap }).
calendar-everybody = todos
calendar-nobody = de nadie
calendar-heaviest = El día más cargado, como trabajo entre tiempo disponible, sin caminar
calendar-days = Minutos de trabajo cada día laborable
calendar-without-day = Sin ningún día: la sala está siempre cerrada o su persona no está nunca
calendar-irregular = A otra distancia del turno anterior de la que debería
calendar-how = Solo se cuenta el trabajo: ni caminar ni llenar cubos. El límite sale de un programa lineal que no mira la separación, y se comprueba en números enteros.
calendar-work-head = Qué toca cada día
calendar-event = { $count ->
    [one] Trabajo periódico en una sala
   *[other] Trabajo periódico en { $count } salas
}
col-without-calendar = Sin él
col-with-calendar = Calendario
col-bound = Límite
col-gap = Diferencia
col-day = Día
col-daily = Diario
col-periodic = Periódico

## Staff

nav-staff = Cuántas personas
nav-hours = Horas de trabajo
nav-formulas = Fórmulas publicadas
staff-head = Cuántas personas: { $site }, { $date }
staff-lead = Bastan { $enough } personas para todo lo que cabe en un turno así; menos de { $atLeast } es imposible. Entre ambas no se sabe.
staff-proven = Bastan { $enough } personas para todo lo que cabe en un turno así, y menos es imposible.
staff-none = No se encontró ningún número de personas que baste; menos de { $atLeast } es imposible.
staff-shift = Todos trabajan { $shift }; cada uno dispone de { $available }.
staff-levels = Por nivel de servicio: qué trabajo se hace, las personas que bastan, el mínimo demostrado, horas de limpieza y personas por horas al año / 1760 (USPS)
staff-attempts = Planes según el número de personas: { $work }
staff-how = Bastan: se encontró un plan sin nada por hacer. Mínimo: con menos, no caben en los turnos el trabajo, los pasos y las cargas de agua que ningún plan evita.
staff-alike = Se supone que todos son iguales: todas las capacidades y llaves, ritmo 1, un carro. Un equipo en el que no todos pueden hacerlo todo puede necesitar más.
staff-to-health = solo salud
staff-to-expected = salud y lo esperado
staff-to-appearance = todo
hours-head = Horas de limpieza
hours-caption = Horas por semana según frecuencia e importancia
hours-how = A ritmo 1, sin caminar, cargar agua ni tareas del edificio. Aquí el año tiene 52,18 semanas; no se descuentan festivos.
hours-all = todo
turn-daily = a diario
turn-named = en días fijos
turn-weekly = tantas veces por semana
turn-weeks = cada tantas semanas
turn-monthly = cada mes
turn-termly = cada trimestre
formulas-head = Fórmulas publicadas, como orientación
formulas-lead = No son resultados de este plan: solo conocen la superficie ({ $area }, { $sqft } pies cuadrados) y poco más. Personas de 8 horas.
formulas-differ = Las listas no coinciden: en el nivel 3 una da de 19 000 a 25 000 pies cuadrados por persona y la otra de 28 000 a 31 000. Un nivel solo vale con el nombre de su lista.
col-work-done = Trabajo hecho
col-enough = Bastan
col-at-least = Mínimo
col-hours-week = Horas/semana
col-hours-year = Horas/año
col-usps = Según USPS
col-people = Personas
col-highest = Ocupación más alta
col-lowest = Ocupación más baja
col-undone-time = Sin hacer
col-undone-tasks = Tareas sin hacer
col-often = Frecuencia
col-list = Lista
col-basis = Base
col-turns = Veces
staff-levels-left = { $count ->
    [one] No hubo tiempo para otra clase de trabajo pedida: dé más segundos.
   *[other] No hubo tiempo para otras { $count } clases de trabajo pedidas: dé más segundos.
}
staff-never = { $count ->
    [one] Una tarea queda sin hacer con cualquier número: nadie puede hacerla, o no cabe en un turno así ni sola.
   *[other] { $count } tareas quedan sin hacer con cualquier número: nadie puede hacerlas, o no caben en un turno así ni solas.
}
