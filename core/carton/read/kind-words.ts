import { roleTerms } from '../../roles/terms.ts'
import { findTerms, wordsOf } from '../../roles/words.ts'
import type { LineKind } from '../die.ts'

/** What the lines of a layer are: something the die does, a zone, or nothing of the die. */
export type ReadKind =
  | LineKind
  | 'glue'
  | 'bleed'
  /** Dimensions, text, artwork. */
  | 'other'

/** A name of the user's own and what it stands for; the name is written as a term of `findTerms`. */
export interface Alias {
  readonly name: string
  readonly kind: ReadKind
}

/**
 * Trade words by kind; how a term is written: see `findTerms`. English holds the structural types of ISO 19593-1,
 * table 2; the other languages are those of the roles, from memory.
 */
const terms: readonly (readonly [ReadKind, string])[] = [
  [
    'reverse-crease',
    'reverse crease, reverse creases, reverse creasing, reverse score, reverse fold, reverse partial cutting creasing, gegenrillung',
  ],
  [
    'cut-crease',
    `cut crease, cut creases, crease cut, cut score, cutting creasing, reverse cutting creasing, partial cutting creasing,
    partial cutting, partial cut, reverse partial cutting, half cut, ritzen, ritzlinie, =ritz, ritzrillen, stanzrillen,
    mi chair, mezzo taglio, medio corte, meio corte`,
  ],
  ['tear', '=tear, tear line, tear lines, tear strip, tear strips, tear perforation, zipper, aufreiss*'],
  [
    'perforation',
    `perforation, perforations, perforating, perforated, =perf, perf line, perfor*, perforación, perforado, perforazione, perforação, picote, perforatie, perforacja, ミシン目, 打孔线, 齿孔`,
  ],
  [
    'glue',
    `glue, glue zone, glue area, glue flap, gluing, adhesive, kleb*, leim*, =colle, collage, encolado, pegado, =colla,
    incollatura, =cola, colagem, lijm*, klej, klejenie, 糊代, 糊しろ, のりしろ, 粘口, 糊口, 胶位`,
  ],
  [
    'bleed',
    'bleed, bleeds, beschnitt, anschnitt, fond perdu, sangrado, abbondanza, sangria, afloop, spad, 塗り足し, 出血',
  ],
  [
    'crease',
    `crease, creases, creasing, score, scores, score line, score lines, scoring, fold, folds, fold line, fold lines,
    folding, bend, bend line, rill*, nutung, nutlinie, falz*, =falten, faltlinie, rainage, rainant, =pli, plis, hendido,
    hendidos, plegado, pliegue, cordonatura, cordonature, cordoni, =piega, pieghe, vinco, vincos, =dobra, dobras, =ril,
    rillijn, rillijnen, vouwlijn, vouwlijnen, bigowanie, bigi, =big, 罫線, 折り線, 折線, 压痕, 壓痕, 折线, 压线`,
  ],
  [
    'cut',
    `cut, cuts, cutting, cut line, cut lines, cutline, through cut, thru cut, die cut, diecut, die cutting, knife, knives,
    trim, outline, contour, cut contour, punching, punch, drilling, schneid*, schnitt, schnittlinie, schnittkontur,
    =kontur, découpe, coupe, tracé de coupe, corte, línea de corte, =taglio, linea di taglio, faca, snijlijn, snijlijnen,
    snij*, cięcie, cięcia, 刀线, 刀線, 切り線, カット, 抜き`,
  ],
]

const table = terms.map(([kind, list]) => [kind, list.split(/,\s*/).map(term => term.trim())] as const)

/** Roles whose lines are no lines of the die. */
const foreign = roleTerms.filter(([role]) => role !== 'dieline' && role !== 'glueZone')

/** {@link kindOfName} for many names: numbers in them say nothing, so that "path 1" and "path 2" are looked up once. */
export function kindNamer(aliases: readonly Alias[]): (name: string) => ReadKind | null {
  const numbered = aliases.some(({ name }) => /\d/.test(name))
  const known = new Map<string, ReadKind | null>()
  return name => {
    const key = numbered ? name : name.replace(/\d+/g, '0')
    const before = known.get(key)
    if (before !== undefined) return before
    const kind = kindOfName(name, aliases)
    known.set(key, kind)
    return kind
  }
}

/**
 * What a name says of its lines.
 * @returns null when it says nothing, or speaks of cut and crease at once
 */
export function kindOfName(name: string, aliases: readonly Alias[]): ReadKind | null {
  const own = findTerms(
    name,
    aliases.filter(alias => wordsOf(alias.name).length > 0).map(alias => [alias.kind, [alias.name]] as const),
  )
  if (own[0] !== undefined) return own[0].value
  const found = new Set(findTerms(name, table).map(match => match.value))
  // "Cut and crease", "cut + crease" and "die cut / folds" name a layer that holds both.
  if (found.has('cut') && (found.has('crease') || found.has('perforation') || found.has('tear'))) return null
  if (found.has('cut-crease') && /[+&/]|\b(?:and|und|et|e|y|i|en)\b/i.test(name)) return null
  for (const [kind] of table) if (found.has(kind)) return kind
  return findTerms(name, foreign).length > 0 ? 'other' : null
}

const dieTerms = roleTerms.filter(([role]) => role === 'dieline' || role === 'glueZone')

/** Whether a name speaks of the die at all. */
export function namesDie(name: string, aliases: readonly Alias[]): boolean {
  const kind = kindOfName(name, aliases)
  return kind === null ? findTerms(name, dieTerms).length > 0 : kind !== 'other'
}
