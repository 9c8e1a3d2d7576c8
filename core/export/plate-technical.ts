import { moved } from '../art/ink/path.ts'
import { outlineGroup, type ProcessingStep, type StructuralType, stepWords } from '../art/processing-steps.ts'
import type { Rings } from '../base/polygons.ts'
import type { Die, LineKind, Point } from '../carton/die.ts'
import type { Shape } from '../material/drawn-shapes.ts'
import { pathContent, reals } from './pdf-content.ts'
import { type AreaOutlines, isDieLine } from './plate-outlines.ts'
import type { PlateSheet } from './plate-sheet.ts'

/** What is no ink of the print: lines and areas of one processing step, drawn in a spot colour of its own. */
export interface Technical {
  readonly step: ProcessingStep
  /** Of the layer and of the spot colour. */
  readonly name: string
  /** What stands for the spot colour on a screen, inks 0..1. */
  readonly cmyk: readonly [number, number, number, number]
  /** Page content, mm from the trim's lower left corner. */
  readonly content: readonly string[]
  /** Lines of the die, which an overlay is cut by. */
  readonly isDie: boolean
}

const stepOfKind: Readonly<Record<LineKind, StructuralType>> = {
  cut: 'Cutting',
  crease: 'Creasing',
  'reverse-crease': 'ReverseCreasing',
  perforation: 'Perforating',
  tear: 'Perforating',
  'cut-crease': 'CuttingCreasing',
}

/** Colours that tell steps apart on a screen; what does not stand here is grey. */
const colours: Readonly<Record<string, Technical['cmyk']>> = {
  Cutting: [0, 1, 0.8, 0],
  Creasing: [1, 0.5, 0, 0],
  ReverseCreasing: [0.6, 0.8, 0, 0],
  Perforating: [1, 0, 0.8, 0.2],
  CuttingCreasing: [0, 0.6, 1, 0.3],
  Gluing: [0, 0.2, 0.8, 0],
  Hologram: [0.5, 0, 0.2, 0],
  FoilStamping: [0, 0.3, 0.6, 0.3],
  ColdFoilStamping: [0, 0.3, 0.6, 0.3],
}
const grey: Technical['cmyk'] = [0, 0, 0, 0.6]

/** Width of technical lines, mm. */
const lineMm = 0.2

/** Steps that are areas worked on as a whole: their outlines are filled. */
const filled = new Set(['Gluing', 'FoilStamping', 'ColdFoilStamping', 'Embossing', 'Debossing'])

/** Lines of the die and areas of the art, one for each step that the sheet has. */
export function technicals({ die, arts }: PlateSheet, areas: readonly AreaOutlines[]): readonly Technical[] {
  const found = new Map<string, Technical>()
  const add = (step: ProcessingStep, content: readonly string[], isDie: boolean) => {
    if (content.length === 0) return
    const key = stepWords(step)
    const name = technicalName(step)
    const known = found.get(key)
    found.set(key, {
      step,
      name,
      cmyk: colours[name] ?? grey,
      content: [...(known?.content ?? [`${reals(lineMm)} w 1 J 1 j [] 0 d`]), ...content],
      isDie: isDie || (known?.isDie ?? false),
    })
  }
  if (die) addDie(die, add)
  for (const { step, shapes } of areas) {
    const isFilled = 'type' in step && filled.has(step.type ?? '')
    for (const { at } of arts)
      add(
        step,
        shapes.map(shape =>
          shapeContent(
            { ...shape, path: moved(shape.path, [1, 0, 0, 1, ...at]) },
            isFilled ? 'fill' : 'line',
          ),
        ),
        isDieLine(step),
      )
  }
  return [...found.values()]
}

/**
 * Sheet and areas with each line of the die once. Lines that the art draws as one kind keep their curves, where the die's
 * own are cut into straight pieces; those of a carton go before the art's.
 */
export function withDieOnce(
  sheet: PlateSheet,
  areas: readonly AreaOutlines[],
  hasCarton: boolean,
): { readonly sheet: PlateSheet; readonly areas: readonly AreaOutlines[] } {
  if (hasCarton) return { sheet, areas: areas.filter(({ step }) => !isDieLine(step)) }
  const drawn = new Set(areas.filter(({ step }) => isDieLine(step)).map(({ step }) => stepWords(step)))
  const { die } = sheet
  if (die === null || drawn.size === 0) return { sheet, areas }
  const wordsOf = (kind: LineKind) => stepWords({ group: 'Structural', type: stepOfKind[kind] })
  const lines = die.lines.filter(({ kind }) => !drawn.has(wordsOf(kind)))
  return { sheet: { ...sheet, die: { ...die, lines } }, areas }
}

/** Of the layer and its spot colour: the type of the step, else its group; our own without their prefix. */
function technicalName(step: ProcessingStep): string {
  const said = 'type' in step && step.type !== undefined ? step.type : step.group
  return step.group === outlineGroup ? `${said.slice(said.indexOf('_') + 1)} outline` : said
}

/** A shape as page content: filled or as a line. A line of the art keeps its pen. */
export function shapeContent({ path, rule, penMm }: Shape, paint: 'fill' | 'line'): string {
  if (penMm !== null) return `q ${reals(penMm)} w ${pathContent(path)} S Q`
  return `${pathContent(path)} ${paint === 'line' ? 'S' : rule === 'evenodd' ? 'f*' : 'f'}`
}

function addDie(
  die: Die,
  add: (step: ProcessingStep, content: readonly string[], isDie: boolean) => void,
): void {
  for (const kind of Object.keys(stepOfKind) as LineKind[]) {
    const lines = die.lines.filter(line => line.kind === kind)
    add(
      { group: 'Structural', type: stepOfKind[kind] },
      lines.map(({ points }) => `${openPath(points)} S`),
      true,
    )
  }
  add({ group: 'Structural', type: 'Gluing' }, areaContent(die.glue, 'f*'), false)
  add({ group: 'Structural', type: 'Bleed' }, areaContent(die.bleed, 'S'), false)
}

const areaContent = (rings: Rings, paint: 'f*' | 'S'): readonly string[] =>
  rings.length === 0 ? [] : [...rings.map(closedPath), paint]

const openPath = (points: readonly Point[]): string =>
  points.map(([x, y], i) => `${reals(x, y)} ${i === 0 ? 'm' : 'l'}`).join(' ')

/** A closed ring that does not repeat its first point. */
export const closedPath = (ring: readonly (readonly [x: number, y: number])[]): string =>
  `${openPath(ring)} h`
