### What notices say in English: short, calm, true; nothing that reassures, no capitals for alarm.
### A translation gives every message below and names every argument in each of its variants.

translation-checked-by = the authors

## What to do first

isolate-at-one = Isolate at { $device }
isolate-at-all =
    { $count ->
        [2] Isolate at both points
       *[other] Isolate at all { $count } points
    }
cannot-be-fully-isolated = Cannot be fully isolated
cannot-be-isolated = Cannot be isolated
isolation-not-known = Isolation not known
isolation-not-fully-known = Isolation not fully known

## Why, with the enclosure's designation

circuits-stay-live =
    { $count ->
        [one] { $circuits } stays live inside { $enclosure }
       *[other] { $circuits } stay live inside { $enclosure }
    }
two-supplies = Two supplies inside { $enclosure }
several-supplies = More than one supply inside { $enclosure }
several-supplies-possible = More than one supply may be inside { $enclosure }
several-isolators = No single device isolates { $enclosure }
isolators-leave-parts =
    { $count ->
        [one] { $devices } alone does not isolate { $enclosure }
       *[other] { $devices } alone do not isolate { $enclosure }
    }
several-isolators-possible = One device may not be enough to isolate { $enclosure }
voltage-to-earth = { $voltage } to earth inside { $enclosure }
voltage-not-known = Highest voltage to earth inside { $enclosure } not known
sources-supply = { $enclosure }: { $sources } supply this installation
sources-meet = { $enclosure }: { $sources } meet here
source-point = { $enclosure }: point of isolation of { $sources }
sources-possible = { $enclosure }: more than one source may supply this installation
solar-inside = Solar d.c. inside { $enclosure }: live at any time
battery-inside = Battery inside { $enclosure }: live at any time
parts-stay-live = Parts of { $enclosure } stay live after isolation
parts-may-stay-live = Parts of { $enclosure } may stay live after isolation
back-feed-at = Back-feed is possible at { $enclosure }
starts-at = { $enclosure }: { $source } may start without warning
charge-inside = Stored charge inside { $enclosure }
feed-not-known = What feeds { $enclosure } is not fully known
live-parts-inside = Live parts inside { $enclosure }

## What else must be known, one sentence each

several-supplies-also = More than one supply inside
several-supplies-possible-also = More than one supply may be inside
several-isolators-also = No single device isolates everything inside
several-isolators-possible-also = One device may not be enough
sources-possible-also = More than one source may supply this installation
isolate-sources = Isolate each source: { $sources }
isolate-sources-of-installation = Isolate each source of this installation: { $sources }
several-sources = More than one source supplies this installation: { $sources }
other-sources = Other sources supply this installation: { $sources }
further-sources-possible = Further sources may supply this installation
solar-stays-live = Solar d.c. { $circuits } may be live at any time, whatever is switched off elsewhere
battery-stays-live = Battery { $circuits } stays live, whatever is switched off elsewhere
part-stays-live = Stays live after isolation: { $part }. Isolate at { $devices }
part-may-stay-live = What stays live after isolation is not known
part-cannot-be-isolated = Stays live after isolation: { $part }. Nothing isolates that
part-stays-live-unknown = Stays live after isolation: { $part }. Where that is isolated is not known
back-feed = Back-feed from { $ups } is possible: isolate { $ups }, then check for voltage
starts = May start without warning: { $source }. Inhibit starting first
inhibit-starting = Inhibit starting before isolating
charge-wait = Stored charge, { $voltage }: wait { $time } after isolating
charge-wait-voltage-unknown = Stored charge: wait { $time } after isolating
charge-wait-unknown = Stored charge, { $voltage }: waiting time not known, prove discharged
charge-unknown = Stored charge may remain: waiting time not known, prove discharged
isolate-in-order = Isolate in the order shown
high-voltage = High voltage: isolate, prove dead and earth by the site's high-voltage rules only

## What belongs to one point

not-under-load = Do not open under load
before-isolating = First: { $text }
no-locking = No means of locking off

## Voltages

figure-ac = { $volts } V
figure-dc = { $volts } V d.c.
figure-up-to = up to { $figure }
to-earth = to earth
between-conductors = between conductors

## The last line

lock-off-one = Lock off. Prove dead before work.
lock-off-each = Lock off each. Prove dead before work.
secure-one = Secure off. Prove dead before work.
secure-each = Secure each off. Prove dead before work.
live-parts-remain-one = Lock off. Live parts remain: prove dead where you work.
live-parts-remain-each = Lock off each. Live parts remain: prove dead where you work.
live-parts-remain-secure-one = Secure off. Live parts remain: prove dead where you work.
live-parts-remain-secure-each = Secure each off. Live parts remain: prove dead where you work.
live-parts-remain = Live parts remain: prove dead where you work.
treat-as-live = Treat as live. Prove dead before work.

## An isolator's own notice

disconnects =
    { $count ->
        [one] Disconnects this circuit
       *[other] Disconnects these circuits
    }
also-open = Also open { $devices }
open-first = First open { $devices }
others-perhaps-first = Others may have to be opened first
other-supplies-may-remain = Other supplies may remain
live-parts-may-remain = Live parts may remain
other-supplies-may-remain-in-each = Other supplies may remain in each enclosure

point-of-source = Point of isolation: { $sources }. Other points: { $points }

## Standing notices: a dash parts the heading from the rest

standing-periodic-inspection = Important – This installation should be periodically inspected and tested and a report on its condition obtained, as prescribed in BS 7671 Requirements for Electrical Installations.
standing-rcd-test = This installation, or part of it, is protected by a device which automatically switches off the supply if an earth fault develops. Test six-monthly by pressing the button marked 'T' or 'Test'. The device should switch off the supply and should then be switched on to restore the supply. If the device does not switch off the supply when the button is pressed seek expert advice.
standing-earthing-connection = Safety Electrical Connection – Do Not Remove
standing-earth-free-location = The protective bonding conductors associated with the electrical installation in this location MUST NOT BE CONNECTED TO EARTH. Equipment having exposed-conductive-parts connected to earth must not be brought into this location.
standing-surge-protection = Surge protection – Surge protective devices are fitted in this installation. They must be taken into account before insulation resistance is measured.
standing-firefighters-switch = FIREFIGHTER'S SWITCH
standing-mixed-colours = CAUTION – This installation has wiring colours to two versions of BS 7671. Great care should be taken before undertaking extension, alteration or repair that all conductors are correctly identified.
date-last-inspection = Date of last inspection
date-next-inspection = Recommended date of next inspection
calendar-day =
    { $month ->
        [1] { $day } Jan { $year }
        [2] { $day } Feb { $year }
        [3] { $day } Mar { $year }
        [4] { $day } Apr { $year }
        [5] { $day } May { $year }
        [6] { $day } Jun { $year }
        [7] { $day } Jul { $year }
        [8] { $day } Aug { $year }
        [9] { $day } Sep { $year }
        [10] { $day } Oct { $year }
        [11] { $day } Nov { $year }
       *[other] { $day } Dec { $year }
    }

## Small words

source-mains = mains
source-generator = generator
source-solar = solar
source-battery = battery
source-ups = UPS
source-vehicle = vehicle
source-not-known = a source not known
source-at = { $source } at { $devices }
source-at-and-elsewhere = { $source } at { $devices } and elsewhere
source-at-in-part = { $source } at { $devices } (not all of it can be isolated)
source-in-part = { $source } (not all of it can be isolated)
source-elsewhere = { $source } elsewhere too
source-cannot-be-isolated = { $source } (cannot be isolated)
source-isolation-not-known = { $source } (where is not known)
minutes =
    { $count ->
        [one] { $count } minute
       *[other] { $count } minutes
    }
seconds =
    { $count ->
        [one] { $count } second
       *[other] { $count } seconds
    }
device-at-place = { $device } ({ $place })
list-last = { $others } and { $last }
revision = rev { $revision }
code-caption = Record
code-caption-text = Text of this notice
code-text-number = Notice { $number }
