/**
 * Blend functions of one colour component: `B(backdrop, source)`, all in [0, 1], 1 = light.
 * CMYK samples come in the file's polarity (1 = no ink), so the same functions serve every mode.
 *
 * Sources: ISO 32000-2:2020, 11.3.5.2, and W3C Compositing and Blending Level 1, section 9, for multiply, screen,
 * overlay, darken, lighten, color dodge, color burn, hard light, soft light, difference and exclusion; the others
 * (linear burn and dodge, vivid, linear and pin light, hard mix, subtract, divide) from memory.
 */
export type Blend = (b: number, s: number) => number

/** Blend modes by the four letters that layered files use. */
export const blendModeOfKey = {
  pass: 'passThrough',
  norm: 'normal',
  diss: 'dissolve',
  dark: 'darken',
  'mul ': 'multiply',
  idiv: 'colorBurn',
  lbrn: 'linearBurn',
  dkCl: 'darkerColor',
  lite: 'lighten',
  scrn: 'screen',
  'div ': 'colorDodge',
  lddg: 'linearDodge',
  lgCl: 'lighterColor',
  over: 'overlay',
  sLit: 'softLight',
  hLit: 'hardLight',
  vLit: 'vividLight',
  lLit: 'linearLight',
  pLit: 'pinLight',
  hMix: 'hardMix',
  diff: 'difference',
  smud: 'exclusion',
  fsub: 'subtract',
  fdiv: 'divide',
  'hue ': 'hue',
  'sat ': 'saturation',
  colr: 'color',
  'lum ': 'luminosity',
} as const
export type BlendMode = (typeof blendModeOfKey)[keyof typeof blendModeOfKey]

const modes: ReadonlySet<string> = new Set(Object.values(blendModeOfKey))
export const isBlendMode = (name: string): name is BlendMode => modes.has(name)

/** The modes that work on one component at a time. */
export const separable = {
  darken: (b, s) => Math.min(b, s),
  multiply: (b, s) => b * s,
  colorBurn: (b, s) => (b >= 1 ? 1 : s <= 0 ? 0 : 1 - Math.min(1, (1 - b) / s)),
  linearBurn: (b, s) => Math.max(0, b + s - 1),
  lighten: (b, s) => Math.max(b, s),
  screen: (b, s) => b + s - b * s,
  colorDodge: (b, s) => (b <= 0 ? 0 : s >= 1 ? 1 : Math.min(1, b / (1 - s))),
  linearDodge: (b, s) => Math.min(1, b + s),
  overlay: (b, s) => hardLight(s, b),
  softLight: (b, s) => softLight(b, s),
  hardLight: (b, s) => hardLight(b, s),
  vividLight: (b, s) => vividLight(b, s),
  linearLight: (b, s) => Math.min(1, Math.max(0, b + 2 * s - 1)),
  pinLight: (b, s) => (s < 0.5 ? Math.min(b, 2 * s) : Math.max(b, 2 * s - 1)),
  hardMix: (b, s) => (b >= 1 || b + s > 1 + 1e-6 ? 1 : 0),
  difference: (b, s) => Math.abs(b - s),
  exclusion: (b, s) => b + s - 2 * b * s,
  subtract: (b, s) => Math.max(0, b - s),
  divide: (b, s) => (b <= 0 ? 0 : s <= 0 ? 1 : Math.min(1, b / s)),
} as const satisfies Partial<Record<BlendMode, Blend>>

/** The component function of a mode, or null for modes that need the whole colour or none. */
export function componentBlend(mode: BlendMode): Blend | null {
  return mode in separable ? separable[mode as keyof typeof separable] : null
}

/**
 * Fill opacity `f` fades these modes towards the source that changes nothing, before blending; all others
 * treat it like opacity. From memory; hard mix so faded is the clamped line through the same two ends.
 */
const neutral = {
  colorBurn: 1,
  linearBurn: 1,
  colorDodge: 0,
  linearDodge: 0,
  vividLight: 0.5,
  linearLight: 0.5,
  difference: 0,
} as const satisfies Partial<Record<BlendMode, number>>

/** The component function of a mode under fill opacity `f` in [0, 1), or null where fill acts as opacity. */
export function filledBlend(mode: BlendMode, f: number): Blend | null {
  if (mode === 'hardMix') return (b, s) => Math.min(1, Math.max(0, (b + f * s - f) / (1 - f)))
  if (!(mode in neutral)) return null
  const calm = neutral[mode as keyof typeof neutral]
  const blend = separable[mode as keyof typeof neutral]
  return (b, s) => blend(b, calm + f * (s - calm))
}

function hardLight(b: number, s: number): number {
  return s <= 0.5 ? b * 2 * s : b + (2 * s - 1) - b * (2 * s - 1)
}

/** Burns below the middle and dodges above it; at the ends the source decides, not the backdrop. */
function vividLight(b: number, s: number): number {
  if (s <= 0) return 0
  if (s >= 1) return 1
  return s <= 0.5 ? separable.colorBurn(b, 2 * s) : separable.colorDodge(b, 2 * s - 1)
}

function softLight(b: number, s: number): number {
  if (s <= 0.5) return b - (1 - 2 * s) * b * (1 - b)
  const d = b <= 0.25 ? ((16 * b - 12) * b + 4) * b : Math.sqrt(b)
  return b + (2 * s - 1) * (d - b)
}
