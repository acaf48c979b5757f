/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A stranger's program: built against the installed library, as C99 and as C++. It agrees with the
 * library about the version and computes one thing that has a reference: the pressure of the
 * standard atmosphere at 1000 m, 89874.6 Pa (ISO 2533:1975, table; from memory). */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <ventstack/ventstack.h>

int main(void)
{
    vent_error err = VENT_NO_ERROR;
    double pressure = vent_pressure_at_altitude(1000);
    vent_air air = vent_air_moist(VENT_CELSIUS(13), pressure, 1.0, &err);
    if (err.status != VENT_OK) {
        fprintf(stderr, "%s\n", err.message);
        return 1;
    }
    int sound = strcmp(vent_version(), VENT_VERSION) == 0 && fabs(pressure - 89874.6) < 0.1 &&
                air.density > 1.0 && air.density < 1.2;
    printf("ventstack %s: %.1f Pa, %.4f kg/m3\n", vent_version(), pressure, air.density);
    return sound ? 0 : 1;
}
