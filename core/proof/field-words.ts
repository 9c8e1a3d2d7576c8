/** Endings of a field's name that say its unit, and how people write it. */
const units: readonly (readonly [string, string])[] = [
  ['Mrad', ' mrad'],
  ['Deg', '°'],
  ['Ppi', ' per inch'],
  ['Lux', ' lx'],
  ['Mm', ' mm'],
  ['Nm', ' nm'],
  ['Um', ' µm'],
  ['S', ' s'],
]

export interface FieldWords {
  /** As in `light, lamp 1, pose, elevation`. */
  readonly words: string
  /** Stands behind its numbers; empty where it has none. */
  readonly unit: string
}

/** A field of the job, by its path, as people read it: `light.lamps.0.pose.elevationDeg` is lamp 1's elevation in °. */
export function fieldWords(path: string): FieldWords {
  const parts = path.split('.')
  const last = parts.at(-1)!
  const [ending, unit] = units.find(([end]) => last.length > end.length && last.endsWith(end)) ?? ['', '']
  const bare = ending === '' ? parts : [...parts.slice(0, -1), last.slice(0, -ending.length)]
  const words: string[] = []
  for (const part of bare)
    if (/^\d+$/.test(part) && words.length > 0) words.push(`${one(words.pop()!)} ${Number(part) + 1}`)
    else words.push(apart(part))
  return { words: words.join(', '), unit }
}

const one = (many: string): string => many.replace(/s$/, '')

/** `whitePart` is two words; a name that is no word of ours (an id) stays as it is. */
const apart = (name: string): string =>
  /^[a-z][A-Za-z]*$/.test(name) ? name.replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`) : name
