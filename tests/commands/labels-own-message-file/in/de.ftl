translation-checked-by = A. Beispiel
### What notices say in German: short, calm, true; nothing that reassures, no capitals for alarm.
### No competent translator has read it yet, and so it does not say that anybody has checked it.

## What to do first

isolate-at-one = An { $device } freischalten
isolate-at-all =
    { $count ->
        [2] An beiden Trennstellen freischalten
       *[other] An allen { $count } Trennstellen freischalten
    }
cannot-be-fully-isolated = Nicht vollständig freischaltbar
cannot-be-isolated = Nicht freischaltbar
isolation-not-known = Trennstelle nicht bekannt
isolation-not-fully-known = Trennstellen nicht vollständig bekannt

## Why, with the enclosure's designation

circuits-stay-live =
    { $count ->
        [one] { $circuits } bleibt in { $enclosure } unter Spannung
       *[other] { $circuits } bleiben in { $enclosure } unter Spannung
    }
two-supplies = Zwei Einspeisungen in { $enclosure }
several-supplies = Mehrere Einspeisungen in { $enclosure }
several-supplies-possible = Mehrere Einspeisungen in { $enclosure } möglich
several-isolators = Kein Gerät allein schaltet { $enclosure } frei
isolators-leave-parts =
    { $count ->
        [one] { $devices } allein schaltet { $enclosure } nicht frei
       *[other] { $devices } allein schalten { $enclosure } nicht frei
    }
several-isolators-possible = Ein Gerät allein schaltet { $enclosure } möglicherweise nicht frei
voltage-to-earth = { $voltage } gegen Erde in { $enclosure }
voltage-not-known = Höchste Spannung gegen Erde in { $enclosure } nicht bekannt
sources-supply = { $enclosure }: { $sources } versorgen diese Anlage
sources-meet = { $enclosure }: hier treffen { $sources } zusammen
source-point = { $enclosure }: Trennstelle für { $sources }
sources-possible = { $enclosure }: mehrere Stromquellen in dieser Anlage möglich
solar-inside = DC-Seite der PV-Anlage in { $enclosure }: jederzeit unter Spannung
battery-inside = Batterie in { $enclosure }: jederzeit unter Spannung
parts-stay-live = Teile in { $enclosure } bleiben nach dem Freischalten unter Spannung
parts-may-stay-live = Teile in { $enclosure } bleiben nach dem Freischalten möglicherweise unter Spannung
back-feed-at = Rückspeisung in { $enclosure } möglich
starts-at = { $enclosure }: { $source } kann ohne Vorwarnung anlaufen
charge-inside = Restladung in { $enclosure }
feed-not-known = Einspeisung von { $enclosure } nicht vollständig bekannt
live-parts-inside = Aktive Teile in { $enclosure }

## What else must be known, one sentence each

several-supplies-also = Mehrere Einspeisungen im Gehäuse
several-supplies-possible-also = Mehrere Einspeisungen im Gehäuse möglich
several-isolators-also = Kein Gerät allein schaltet alles im Gehäuse frei
several-isolators-possible-also = Ein Gerät allein schaltet möglicherweise nicht alles frei
sources-possible-also = Mehrere Stromquellen in dieser Anlage möglich
isolate-sources = Jede Stromquelle freischalten: { $sources }
isolate-sources-of-installation = Jede Stromquelle dieser Anlage freischalten: { $sources }
several-sources = Mehrere Stromquellen versorgen diese Anlage: { $sources }
other-sources = Weitere Stromquellen versorgen diese Anlage: { $sources }
further-sources-possible = Weitere Stromquellen in dieser Anlage möglich
solar-stays-live = DC-Seite der PV-Anlage ({ $circuits }) kann jederzeit unter Spannung stehen, auch wenn anderswo abgeschaltet ist
battery-stays-live = Batterie ({ $circuits }) bleibt unter Spannung, auch wenn anderswo abgeschaltet ist
part-stays-live = Bleibt nach dem Freischalten unter Spannung: { $part }. Freischalten an { $devices }
part-may-stay-live = Was nach dem Freischalten unter Spannung bleibt, ist nicht bekannt
part-cannot-be-isolated = Bleibt nach dem Freischalten unter Spannung: { $part }. Nicht freischaltbar
part-stays-live-unknown = Bleibt nach dem Freischalten unter Spannung: { $part }. Trennstelle dafür nicht bekannt
back-feed = Rückspeisung aus { $ups } möglich: { $ups } freischalten, dann auf Spannung prüfen
starts = Kann ohne Vorwarnung anlaufen: { $source }. Zuerst das Anlaufen verhindern
inhibit-starting = Vor dem Freischalten das Anlaufen verhindern
charge-wait = Restladung, { $voltage }: nach dem Freischalten { $time } warten
charge-wait-voltage-unknown = Restladung: nach dem Freischalten { $time } warten
charge-wait-unknown = Restladung, { $voltage }: Wartezeit nicht bekannt, Entladung prüfen
charge-unknown = Restladung möglich: Wartezeit nicht bekannt, Entladung prüfen
isolate-in-order = In der gezeigten Reihenfolge freischalten
high-voltage = Hochspannung: nur nach den Hochspannungsregeln des Betriebs freischalten, Spannungsfreiheit feststellen und erden

## What belongs to one point

not-under-load = Nicht unter Last öffnen
before-isolating = Zuerst: { $text }
no-locking = In Aus-Stellung nicht abschließbar

## Voltages

figure-ac = { $volts } V
figure-dc = { $volts } V DC
figure-up-to = bis { $figure }
to-earth = gegen Erde
between-conductors = zwischen Leitern

## The last line

lock-off-one = Gegen Wiedereinschalten sichern. Vor der Arbeit Spannungsfreiheit feststellen.
lock-off-each = Alle gegen Wiedereinschalten sichern. Vor der Arbeit Spannungsfreiheit feststellen.
secure-one = Gegen Wiedereinschalten sichern. Vor der Arbeit Spannungsfreiheit feststellen.
secure-each = Alle gegen Wiedereinschalten sichern. Vor der Arbeit Spannungsfreiheit feststellen.
live-parts-remain-one = Gegen Wiedereinschalten sichern. Teile bleiben unter Spannung: Spannungsfreiheit an der Arbeitsstelle feststellen.
live-parts-remain-each = Alle gegen Wiedereinschalten sichern. Teile bleiben unter Spannung: Spannungsfreiheit an der Arbeitsstelle feststellen.
live-parts-remain-secure-one = Gegen Wiedereinschalten sichern. Teile bleiben unter Spannung: Spannungsfreiheit an der Arbeitsstelle feststellen.
live-parts-remain-secure-each = Alle gegen Wiedereinschalten sichern. Teile bleiben unter Spannung: Spannungsfreiheit an der Arbeitsstelle feststellen.
live-parts-remain = Teile bleiben unter Spannung: Spannungsfreiheit an der Arbeitsstelle feststellen.
treat-as-live = Als unter Spannung stehend behandeln. Vor der Arbeit Spannungsfreiheit feststellen.

## An isolator's own notice

disconnects =
    { $count ->
        [one] Trennt diesen Stromkreis
       *[other] Trennt diese Stromkreise
    }
also-open = Auch { $devices } öffnen
open-first = Zuerst { $devices } öffnen
others-perhaps-first = Andere sind vielleicht zuerst zu öffnen
other-supplies-may-remain = Weitere Einspeisungen möglich
live-parts-may-remain = Teile können unter Spannung bleiben
other-supplies-may-remain-in-each = In jedem Gehäuse weitere Einspeisungen möglich

point-of-source = Trennstelle für { $sources }. Weitere Trennstellen: { $points }

## Small words

source-mains = Netz
source-generator = Generator
source-solar = PV-Anlage
source-battery = Batterie
source-ups = USV
source-vehicle = Fahrzeug
source-not-known = eine nicht bekannte Stromquelle
source-at = { $source } an { $devices }
source-at-and-elsewhere = { $source } an { $devices } und anderswo
source-at-in-part = { $source } an { $devices } (nicht vollständig freischaltbar)
source-in-part = { $source } (nicht vollständig freischaltbar)
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
code-caption = Eintrag
code-caption-text = Text dieses Hinweises
code-text-number = Hinweis { $number }
## Standing notices

standing-periodic-inspection = Wichtig – Diese Anlage soll wiederkehrend besichtigt und geprüft und über ihren Zustand ein Bericht erstellt werden, wie in BS 7671 Requirements for Electrical Installations vorgeschrieben.
standing-rcd-test = Diese Anlage oder ein Teil davon ist durch ein Gerät geschützt, das die Versorgung bei einem Erdschluss selbsttätig abschaltet. Halbjährlich prüfen: die Taste „T“ oder „Test“ drücken. Das Gerät muss die Versorgung abschalten und ist danach wieder einzuschalten. Schaltet es beim Drücken der Taste nicht ab, eine Fachkraft hinzuziehen.
standing-earthing-connection = Elektrische Schutzverbindung – Nicht entfernen
standing-earth-free-location = Die Schutzpotentialausgleichsleiter der elektrischen Anlage an diesem Ort DÜRFEN NICHT MIT ERDE VERBUNDEN WERDEN. Betriebsmittel, deren Körper mit Erde verbunden sind, dürfen nicht an diesen Ort gebracht werden.
standing-surge-protection = Überspannungsschutz – In dieser Anlage sind Überspannungsschutzgeräte eingebaut. Vor dem Messen des Isolationswiderstands sind sie zu berücksichtigen.
standing-firefighters-switch = FEUERWEHRSCHALTER
standing-mixed-colours = ACHTUNG – Die Leiter dieser Anlage haben Farben nach zwei Fassungen von BS 7671. Vor Erweiterung, Änderung oder Reparatur ist mit großer Sorgfalt sicherzustellen, dass alle Leiter richtig erkannt sind.
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
