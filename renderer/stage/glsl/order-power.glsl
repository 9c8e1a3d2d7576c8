// Share of the power in one order at one wavelength, inside the coat: core/reference/order-power.ts.
float orderPower(Grating grating, int m, float wavelength, float q) {
  float at = min(tau * grating.depth * q * phaseScale / wavelength, float(PHASE_COLUMNS - 1));
  float share = between(uEfficiency, PHASE_COLUMNS, at, grating.groove * GROOVE_ROWS + MAX_ORDER + m).r;
  float reach = float(m) * wavelength / (uCoat * grating.pitch);
  return smoothness(q, wavelength) * share * (1.0 + uGrooves[grating.groove].x * reach * reach) / cap(grating, wavelength);
}
