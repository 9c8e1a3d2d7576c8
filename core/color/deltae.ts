import type { Lab } from './lab.ts'

const degree = Math.PI / 180

/** Hue angle in degrees, 0..360; 0 for grey. */
function hue(a: number, b: number): number {
  if (a === 0 && b === 0) return 0
  const h = Math.atan2(b, a) / degree
  return h < 0 ? h + 360 : h
}

function hueDifference(h1: number, h2: number): number {
  const Δ = h2 - h1
  if (Δ > 180) return Δ - 360
  return Δ < -180 ? Δ + 360 : Δ
}

function hueMean(h1: number, h2: number): number {
  if (Math.abs(h1 - h2) <= 180) return (h1 + h2) / 2
  return h1 + h2 < 360 ? (h1 + h2 + 360) / 2 : (h1 + h2 - 360) / 2
}

/**
 * CIEDE2000 colour difference with kL = kC = kH = 1.
 * Source: Sharma, Wu & Dalal (2005), Color Res. Appl. 30(1), equations 2–22; ISO/CIE 11664-6.
 */
export function deltaE2000([L1, a1, b1]: Lab, [L2, a2, b2]: Lab): number {
  const C7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7
  const G = 0.5 * (1 - Math.sqrt(C7 / (C7 + 25 ** 7)))
  const C1 = Math.hypot((1 + G) * a1, b1)
  const C2 = Math.hypot((1 + G) * a2, b2)
  const h1 = hue((1 + G) * a1, b1)
  const h2 = hue((1 + G) * a2, b2)
  const grey = C1 * C2 === 0

  const ΔL = L2 - L1
  const ΔC = C2 - C1
  const Δh = grey ? 0 : hueDifference(h1, h2)
  const ΔH = 2 * Math.sqrt(C1 * C2) * Math.sin((Δh / 2) * degree)

  const L = (L1 + L2) / 2
  const C = (C1 + C2) / 2
  const h = grey ? h1 + h2 : hueMean(h1, h2)
  const T =
    1 -
    0.17 * Math.cos((h - 30) * degree) +
    0.24 * Math.cos(2 * h * degree) +
    0.32 * Math.cos((3 * h + 6) * degree) -
    0.2 * Math.cos((4 * h - 63) * degree)
  const SL = 1 + (0.015 * (L - 50) ** 2) / Math.sqrt(20 + (L - 50) ** 2)
  const SC = 1 + 0.045 * C
  const SH = 1 + 0.015 * C * T
  const Δθ = 30 * Math.exp(-(((h - 275) / 25) ** 2))
  const RC = 2 * Math.sqrt(C ** 7 / (C ** 7 + 25 ** 7))
  const RT = -Math.sin(2 * Δθ * degree) * RC
  return Math.sqrt((ΔL / SL) ** 2 + (ΔC / SC) ** 2 + (ΔH / SH) ** 2 + RT * (ΔC / SC) * (ΔH / SH))
}
