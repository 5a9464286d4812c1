### A second language for tests. Nobody who works on site has checked it, and so it does not say that anybody has.

isolate-at-one = An { $device } freischalten
isolate-at-all =
    { $count ->
        [2] An beiden Stellen freischalten
       *[other] An allen { $count } Stellen freischalten
    }
cannot-be-fully-isolated = Nicht ganz freischaltbar
cannot-be-isolated = Nicht freischaltbar
isolation-not-known = Freischaltung nicht bekannt
isolation-not-fully-known = Freischaltung nicht ganz bekannt

circuits-stay-live =
    { $count ->
        [one] { $circuits } bleibt in { $enclosure } unter Spannung
       *[other] { $circuits } bleiben in { $enclosure } unter Spannung
    }
two-supplies = Zwei Einspeisungen in { $enclosure }
several-supplies = Mehr als eine Einspeisung in { $enclosure }
several-supplies-possible = Vielleicht mehr als eine Einspeisung in { $enclosure }
several-isolators = Kein einzelnes Gerät schaltet { $enclosure } frei
several-isolators-possible = Ein Gerät allein schaltet { $enclosure } vielleicht nicht frei
voltage-to-earth = { $voltage } gegen Erde in { $enclosure }
voltage-not-known = Höchste Spannung gegen Erde in { $enclosure } nicht bekannt
sources-supply = { $enclosure }: { $sources } versorgen diese Anlage
sources-meet = { $enclosure }: hier treffen sich { $sources }
source-point = { $enclosure }: eine Trennstelle für { $sources }
sources-possible = { $enclosure }: vielleicht mehr als eine Quelle in dieser Anlage
solar-inside = Solargleichstrom in { $enclosure }: jederzeit unter Spannung
battery-inside = Batterie in { $enclosure }: jederzeit unter Spannung
parts-stay-live = Teile von { $enclosure } bleiben nach dem Freischalten unter Spannung
parts-may-stay-live = Teile von { $enclosure } bleiben nach dem Freischalten vielleicht unter Spannung
back-feed-at = Rückspeisung in { $enclosure } möglich
starts-at = { $enclosure }: { $source } kann ohne Warnung anlaufen
charge-inside = Gespeicherte Ladung in { $enclosure }
feed-not-known = Was { $enclosure } speist, ist nicht ganz bekannt
live-parts-inside = Aktive Teile in { $enclosure }

several-supplies-also = Mehr als eine Einspeisung
several-supplies-possible-also = Vielleicht mehr als eine Einspeisung
several-isolators-also = Kein einzelnes Gerät schaltet alles frei
several-isolators-possible-also = Ein Gerät allein schaltet vielleicht nicht alles frei
sources-possible-also = Vielleicht mehr als eine Quelle in dieser Anlage
isolate-sources = Jede Quelle freischalten: { $sources }
isolate-sources-of-installation = Jede Quelle dieser Anlage freischalten: { $sources }
several-sources = Mehr als eine Quelle versorgt diese Anlage: { $sources }
other-sources = Andere Quellen versorgen diese Anlage: { $sources }
further-sources-possible = Vielleicht versorgen weitere Quellen diese Anlage
solar-stays-live = Solargleichstrom { $circuits } kann jederzeit unter Spannung stehen, gleich was anderswo abgeschaltet ist
battery-stays-live = Batterie { $circuits } bleibt unter Spannung, gleich was anderswo abgeschaltet ist
part-stays-live = Bleibt nach dem Freischalten unter Spannung: { $part }. Freischalten an { $devices }
part-may-stay-live = Was nach dem Freischalten unter Spannung bleibt, ist nicht bekannt
part-cannot-be-isolated = Bleibt nach dem Freischalten unter Spannung: { $part }. Nichts schaltet das frei
part-stays-live-unknown = Bleibt nach dem Freischalten unter Spannung: { $part }. Wo das freigeschaltet wird, ist nicht bekannt
back-feed = Rückspeisung aus { $ups } möglich: { $ups } freischalten, dann prüfen
starts = Kann ohne Warnung anlaufen: { $source }. Zuerst das Anlaufen sperren
inhibit-starting = Vor dem Freischalten das Anlaufen sperren
charge-wait = Gespeicherte Ladung, { $voltage }: nach dem Freischalten { $time } warten
charge-wait-voltage-unknown = Gespeicherte Ladung: nach dem Freischalten { $time } warten
charge-wait-unknown = Gespeicherte Ladung, { $voltage }: Wartezeit nicht bekannt, Entladung prüfen
charge-unknown = Vielleicht gespeicherte Ladung: Wartezeit nicht bekannt, Entladung prüfen
isolate-in-order = In dieser Reihenfolge freischalten

not-under-load = Nicht unter Last öffnen
before-isolating = Zuerst: { $text }
no-locking = Nicht abschließbar

figure-ac = { $volts } V
figure-dc = { $volts } V DC
figure-up-to = bis { $figure }
to-earth = gegen Erde
between-conductors = zwischen Leitern

lock-off-one = Abschließen. Vor der Arbeit Spannungsfreiheit feststellen.
lock-off-each = Jede Stelle abschließen. Vor der Arbeit Spannungsfreiheit feststellen.
live-parts-remain-one = Abschließen. Aktive Teile bleiben: am Arbeitsort Spannungsfreiheit feststellen.
live-parts-remain-each = Jede Stelle abschließen. Aktive Teile bleiben: am Arbeitsort Spannungsfreiheit feststellen.
live-parts-remain = Aktive Teile bleiben: am Arbeitsort Spannungsfreiheit feststellen.
treat-as-live = Wie unter Spannung behandeln. Vor der Arbeit Spannungsfreiheit feststellen.

disconnects =
    { $count ->
        [one] Trennt diesen Stromkreis
       *[other] Trennt diese Stromkreise
    }
also-open = Auch { $devices } öffnen
other-supplies-may-remain = Andere Einspeisungen können bleiben
live-parts-may-remain = Aktive Teile können bleiben
other-supplies-may-remain-in-each = In jedem Gehäuse können andere Einspeisungen bleiben
point-of-source = Trennstelle: { $sources }. Weitere Stellen: { $points }

source-mains = Netz
source-generator = Generator
source-solar = Solaranlage
source-battery = Batterie
source-ups = USV
source-vehicle = Fahrzeug
source-not-known = eine unbekannte Quelle
source-at = { $source } an { $devices }
source-at-and-elsewhere = { $source } an { $devices } und anderswo
source-at-in-part = { $source } an { $devices } (nicht ganz freischaltbar)
source-elsewhere = { $source } auch anderswo
source-cannot-be-isolated = { $source } (nicht freischaltbar)
source-isolation-not-known = { $source } (wo, ist nicht bekannt)
minutes =
    { $count ->
        [one] { $count } Minute
       *[other] { $count } Minuten
    }
seconds =
    { $count ->
        [one] { $count } Sekunde
       *[other] { $count } Sekunden
    }
device-at-place = { $device } ({ $place })
list-last = { $others } und { $last }
revision = Rev. { $revision }
code-caption = Akte

standing-periodic-inspection = Wichtig – Diese Anlage soll regelmäßig besichtigt und geprüft werden, mit einem Bericht über ihren Zustand, wie BS 7671 es vorschreibt.
standing-rcd-test = Diese Anlage oder ein Teil von ihr wird durch ein Gerät geschützt, das die Versorgung bei einem Erdfehler selbsttätig abschaltet. Halbjährlich mit der Prüftaste prüfen.
standing-earthing-connection = Schutzleiteranschluss – Nicht entfernen
standing-earth-free-location = Die Schutzpotentialausgleichsleiter an diesem Ort DÜRFEN NICHT MIT ERDE VERBUNDEN WERDEN.
standing-surge-protection = Überspannungsschutz – In dieser Anlage sind Überspannungsschutzgeräte eingebaut.
standing-firefighters-switch = FEUERWEHRSCHALTER
standing-mixed-colours = ACHTUNG – Die Adern dieser Anlage haben Farben nach zwei Fassungen von BS 7671.
date-last-inspection = Tag der letzten Prüfung
date-next-inspection = Empfohlener Tag der nächsten Prüfung
calendar-day =
    { $month ->
        [1] { $day }. Jan. { $year }
        [2] { $day }. Feb. { $year }
        [3] { $day }. März { $year }
        [4] { $day }. April { $year }
        [5] { $day }. Mai { $year }
        [6] { $day }. Juni { $year }
        [7] { $day }. Juli { $year }
        [8] { $day }. Aug. { $year }
        [9] { $day }. Sept. { $year }
        [10] { $day }. Okt. { $year }
        [11] { $day }. Nov. { $year }
       *[other] { $day }. Dez. { $year }
    }
