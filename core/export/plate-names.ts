import { plainGroups, plateMakingTypes, positionsTypes, structuralTypes } from '../art/processing-steps.ts'
import type { Finding } from '../base/finding.ts'

/** Process inks by the names that PDF reserves for them. Source: ISO 32000-2, section 8.6.6.4. */
export const processNames = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/** The plate of the die's lines. */
export const dielineName = 'Dieline'

/**
 * Names that an ink must not have: All and None mean every ink and no ink (the same source), and steps have spot colours
 * of their own; White and Varnish are inks.
 */
const reserved = new Set(
  [
    'All',
    'None',
    dielineName,
    ...processNames,
    ...structuralTypes,
    ...positionsTypes,
    ...plateMakingTypes,
    ...plainGroups.filter(group => group !== 'White' && group !== 'Varnish' && group !== 'Primer'),
  ].map(name => name.toLowerCase()),
)

/** Bytes that a name may have. Source: ISO 32000-1, annex C, table C.1. */
const longest = 127

/**
 * Names for separations, in order: none empty, none reserved, none twice, whatever case they are in. A finding says
 * which were changed.
 * @param gone names that other plates have
 */
export function plateNames(
  wanted: readonly string[],
  findings: Finding[],
  gone: readonly string[] = [],
): readonly string[] {
  const taken = new Set([...reserved, ...gone.map(name => name.toLowerCase())])
  return wanted.map(name => {
    const clean = cut(cleaned(name))
    const base = clean === '' ? 'Plate' : reserved.has(clean.toLowerCase()) ? `${clean} ink` : clean
    let free = base
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${base} ${n}`
    taken.add(free.toLowerCase())
    if (free !== name)
      findings.push({
        severity: 'note',
        code: 'plate-renamed',
        where: `plate "${cleaned(name)}"`,
        message: `its separation is called "${free}": ${reasonFor(clean, base, free)}`,
        fix: 'Rename it in the art if that is not clear.',
      })
    return free
  })
}

function reasonFor(clean: string, base: string, free: string): string {
  if (free !== base) return 'another plate has its name'
  return reserved.has(clean.toLowerCase())
    ? 'that name stands for something else'
    : 'its name cannot be written so'
}

/** One line without what a reader of names could trip over. */
const cleaned = (name: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  name.replace(/[\u0000-\u001f\u007f-\u009f\s]+/g, ' ').trim()

function cut(name: string): string {
  let out = name
  while (new TextEncoder().encode(out).length > longest - 4) out = [...out].slice(0, -1).join('')
  return out.trim()
}
