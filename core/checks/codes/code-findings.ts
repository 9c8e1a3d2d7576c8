import type { Task } from '../../base/task.ts'
import type { Tables } from '../../optics/tables.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { artTile } from './art-tile.ts'
import { type BarInks, barInks } from './bar-inks.ts'
import { type BarKind, quietModules, retailModuleMm } from './bars.ts'
import type { FoundCode } from './find.ts'
import { flareOf } from './flare.ts'
import { type DrawnSymbol, drawnSymbol, type JudgedSymbol, judgeBars } from './judge.ts'
import { ReaderLight, type ReaderPose, readerForms } from './light.ts'
import type { CodeLimitName } from './limits.ts'
import { judgeMatrix } from './matrix.ts'
import { textModules, whitePatch } from './patch.ts'
import { boxAround, cornersOf, nearLines } from './place.ts'
import { type RetailKind, retailShape } from './retail.ts'
import { lineHeights } from './scan.ts'
import { ReaderSurface } from './surface.ts'
import type { InkTile } from './tile.ts'

/** A code of the print, and the name that its findings keep. */
export interface ToldCode {
  readonly code: FoundCode
  readonly key: string
}

type LimitOf = (name: CodeLimitName) => AppliedLimit
type Told = Pick<CheckFinding, 'severity' | 'code' | 'message' | 'fix'> &
  Partial<Pick<CheckFinding, 'measured' | 'limit'>>

/** What every finding about a code ends with. */
const estimate = 'This is an estimate and does not replace verification with a calibrated verifier.'

/** All that is to be said of one code. */
export async function codeFindings(
  input: CheckInput,
  tables: Tables,
  { code, key }: ToldCode,
  limits: LimitOf,
  task?: Task,
): Promise<readonly CheckFinding[]> {
  const rough = boxAround(cornersOf(code.frame), 0.25 * Math.max(code.frame.lengthMm, 8))
  const tile = await artTile(input, rough, task)
  const told = code.modules === null ? ofBars : ofMatrix
  return told(input, tables, code, tile, limits).map(finding => ({
    check: 'codes',
    key: `codes/${key}/${finding.code}`,
    where: `${code.kind} ${code.text}`,
    box: boxAround(cornersOf(code.frame)),
    held: null,
    measured: null,
    limit: null,
    remedy: null,
    ...finding,
    message: `${finding.message}. ${estimate}`,
  }))
}

function ofBars(
  input: CheckInput,
  tables: Tables,
  { kind, text, frame, reversed }: FoundCode,
  tile: InkTile,
  limits: LimitOf,
): readonly Told[] {
  const symbol = drawnSymbol(tile, { kind: kind as BarKind, text, frame, reversed })
  if (symbol === null)
    return [
      {
        severity: 'warning',
        code: 'code-not-measured',
        message: `its bars cannot be measured at ${Math.round(tile.ppi)} pixels an inch of the art`,
        fix: 'Place the code as outlines, or at 1200 pixels an inch or more, in one layer of the print.',
      },
    ]
  const quiet = quietModules(kind)
  const core = coreOf(symbol, quiet)
  const found: Told[] = [
    ...ofSource(tile),
    ...ofSize(symbol),
    ...ofQuiet(symbol, quiet),
    ...ofPlace(input, symbol, quiet, limits),
  ]
  if (reversed)
    return [
      ...found,
      {
        severity: 'error',
        code: 'code-reversed',
        message: 'its bars are lighter than the ground between them, which shop readers do not read',
        fix: 'Print dark bars on a light ground.',
      },
    ]
  const along = Math.atan2(symbol.frame.down[1], symbol.frame.down[0])
  const ruling = limits('codes.screen-ruling').value / 10
  const seen = (light: ReaderLight) => new ReaderSurface(input.map, tile, light, ruling)
  const surfaces = readerForms.map(form => seen(new ReaderLight(tables, form, along)))
  const judged = surfaces
    .map(surface => judgeBars(surface, symbol))
    .reduce((worst, one) => (one.grade < worst.grade ? one : worst))
  const inks = barInks(tile, surfaces[0]!, symbol, input.map)
  found.push(...ofInks(inks))
  found.push(...ofGrade(input, tables, symbol, judged, core, inks, limits))
  const tilt = limits('codes.tilt')
  const poses: readonly ReaderPose[] = [0, 1, 2, 3].map(quarter => ({
    tiltDeg: tilt.value,
    towards: along + (quarter * Math.PI) / 2,
  }))
  if (judged.decoded > 0.5 && tilt.value > 0) {
    const read = poses.map(
      pose => judgeBars(seen(new ReaderLight(tables, 'along', along, pose)), symbol, fewLines).decoded,
    )
    const lost = read.filter(part => part < 0.5).length
    if (lost > 0)
      found.push({
        severity: 'warning',
        code: 'code-tilt',
        message: `it reads straight on, but not with the reader leaning ${tilt.value}° ${lost === 4 ? 'to any side' : `to ${lost} of 4 sides`}`,
        fix: 'Print it on an opaque white that reaches under its light margins, away from holography.',
        measured: { value: lost, unit: 'of 4 sides' },
        limit: tilt,
      })
  }
  found.push(...ofFlare(input, tables, core, limits))
  return found
}

const fewLines = [lineHeights[1]!, lineHeights[4]!, lineHeights[8]!]

/** Symbol, light margins and the text below a retail code. */
function coreOf({ kind, frame, moduleMm }: DrawnSymbol, [left, right]: readonly [number, number]): BoxMm {
  const below = kind in retailShape ? textModules * moduleMm : 0
  return boxAround(cornersOf(frame, [left * moduleMm, right * moduleMm, 0, below]))
}

function ofSource({ from, ppi }: InkTile): readonly Told[] {
  if (from === 'outlines' || ppi >= 1199) return []
  return [
    {
      severity: 'note',
      code: 'code-from-pixels',
      message:
        from === 'map'
          ? `there is no art to read its bars from, so they come from the material map, ${Math.round(ppi)} pixels an inch`
          : `its bars are pixels of the art, ${Math.round(ppi)} an inch; edges are known no better than that`,
      fix: 'Place the code as outlines, or at 1200 pixels an inch or more.',
      measured: { value: Math.round(ppi), unit: 'ppi' },
    },
  ]
}

function ofSize({ kind, moduleMm, frame }: DrawnSymbol): readonly Told[] {
  const shape = kind in retailShape ? retailShape[kind as RetailKind] : null
  if (shape === null) return []
  const magnification = moduleMm / retailModuleMm.nominal
  const found: Told[] = []
  const { least, most } = retailModuleMm
  // Outlines are drawn to a thousandth of a millimetre or so.
  if (moduleMm < least - 0.001 || moduleMm > most + 0.001)
    found.push({
      severity: moduleMm < least ? 'error' : 'warning',
      code: 'code-size',
      message: `its narrowest bar is ${moduleMm.toFixed(3)} mm, ${Math.round(100 * magnification)} % of nominal; retail codes go from 80 to 200 %`,
      fix: 'Make it larger or smaller within 80 and 200 %, as one with its light margins.',
      measured: { value: moduleMm, unit: 'mm' },
    })
  const height = shape.heightMm * magnification
  if (frame.heightMm < 0.8 * height)
    found.push({
      severity: 'note',
      code: 'code-height',
      message: `its bars are ${frame.heightMm.toFixed(1)} mm high where ${height.toFixed(1)} mm belong to its width; short bars are missed by readers that see from all sides`,
      fix: 'Give the bars their full height where the panel allows it.',
      measured: { value: frame.heightMm, unit: 'mm' },
    })
  return found
}

/** Drawn margins are told of when they lack more than a quarter module. */
const quietSlack = 0.25

function ofQuiet(
  { clearMm, moduleMm }: DrawnSymbol,
  [left, right]: readonly [number, number],
): readonly Told[] {
  const has = [clearMm[0] / moduleMm, clearMm[1] / moduleMm] as const
  const short = [left - has[0], right - has[1]] as const
  const worst = short[0] > short[1] ? 0 : 1
  if (short[worst] <= quietSlack) return []
  const needs = worst === 0 ? left : right
  return [
    {
      severity: 'error',
      code: 'code-quiet-zone',
      message: `its light margin ${worst === 0 ? 'before the first' : 'after the last'} bar is ${(clearMm[worst]).toFixed(2)} mm where ${(needs * moduleMm).toFixed(2)} mm (${needs} modules) must stay clear`,
      fix: 'Move what is drawn there, or make the code smaller.',
      measured: { value: clearMm[worst], unit: 'mm' },
    },
  ]
}

function ofPlace(
  { map, blank, corners }: CheckInput,
  { frame, moduleMm }: DrawnSymbol,
  [left, right]: readonly [number, number],
  limits: LimitOf,
): readonly Told[] {
  const found: Told[] = []
  const outline = cornersOf(frame, [left * moduleMm, right * moduleMm, 0, 0])
  const box = boxAround(outline)
  const inside = Math.min(box.leftMm, box.bottomMm, map.widthMm - box.rightMm, map.heightMm - box.topMm)
  const limit = limits('codes.fold-distance')
  if (inside < 0)
    found.push({
      severity: 'error',
      code: 'code-cut',
      message: `with its light margins it reaches ${(-inside).toFixed(2)} mm beyond the edge of the art`,
      fix: 'Move it inside the panel.',
      measured: { value: inside, unit: 'mm' },
    })
  const near = blank === null ? [] : nearLines(blank, corners, outline)
  const nearest = near[0]
  if (nearest !== undefined && nearest.mm < limit.value && inside >= 0)
    found.push({
      severity: nearest.mm <= 0 ? 'error' : 'warning',
      code: 'code-near-fold',
      message:
        nearest.mm <= 0
          ? `it lies across ${nearest.what}`
          : `it is ${nearest.mm.toFixed(1)} mm from ${nearest.what}, with its light margins`,
      fix: 'Move it to the middle of a flat panel.',
      measured: { value: nearest.mm, unit: 'mm' },
      limit,
    })
  const turn = (Math.atan2(frame.across[1], frame.across[0]) * 180) / Math.PI
  const off = Math.abs(turn - 90 * Math.round(turn / 90))
  if (off > 2)
    found.push({
      severity: 'note',
      code: 'code-turned',
      message: `it stands at ${Math.round(turn)}°; bars print best along the press, and readers expect them upright or lying`,
      fix: 'Turn it square to the panel, its bars along the way through the press where that is known.',
      measured: { value: turn, unit: '°' },
    })
  return found
}

/** Bars may have half the reflectance of the spaces (ISO/IEC 15416). */
const darkEnough = 0.5

function ofInks({ inks, ratio }: BarInks): readonly Told[] {
  const said = inks.map(({ name, coverage }) => `${Math.round(100 * coverage)} % ${name}`).join(', ')
  const found: Told[] = []
  if (inks.length > 1)
    found.push({
      severity: 'error',
      code: 'code-bars-several-inks',
      message: `its bars are built from ${inks.length} inks (${said}); the least misregister blurs their edges`,
      fix: 'Print the bars in one dark ink, best in black alone.',
      measured: { value: inks.length, unit: 'inks' },
    })
  else if (inks.length === 1 && ratio > darkEnough)
    found.push({
      severity: 'error',
      code: 'code-ink-light-at-660',
      message: `its bars (${said}) send ${Math.round(100 * ratio)} % of the red that the ground sends: a reader hardly sees them`,
      fix: 'Print the bars in black, dark blue or dark green; red, orange, yellow and magenta vanish at 660 nm.',
      measured: { value: ratio, unit: '' },
    })
  return found
}

function ofGrade(
  { map }: CheckInput,
  tables: Tables,
  symbol: DrawnSymbol,
  judged: JudgedSymbol,
  core: BoxMm,
  { inks, ratio }: BarInks,
  limits: LimitOf,
): readonly Told[] {
  const [least, wanted] = [limits('codes.grade'), limits('codes.grade-wanted')]
  const register = limits('codes.register').value
  const needed = register + limits('codes.patch-margin').value
  const patch = whitePatch(map, tables, core, needed + 1)
  const contrast = Math.min(...judged.scans.map(scan => scan.symbolContrast))
  const measured = { value: judged.grade, unit: '' }
  const numbers = `estimated grade ${judged.report}; contrast ${contrast.toFixed(2)}, narrowest bar ${symbol.moduleMm.toFixed(3)} mm`
  const size = `${(core.rightMm - core.leftMm + 2 * needed).toFixed(1)} × ${(core.topMm - core.bottomMm + 2 * needed).toFixed(1)} mm`
  const found: Told[] = []
  const bareMetal = patch.onMetal && patch.without > 0.02
  const inkAlone = inks.length === 1 && ratio > darkEnough && !bareMetal
  if (judged.grade < least.value && bareMetal)
    found.push({
      severity: 'error',
      code: 'code-on-foil',
      message: `${Math.round(100 * patch.without)} % of it has bare or half covered metal beneath: ${numbers}`,
      fix: `Put a full opaque white of ${size} under it: symbol, light margins, text, register and margin.`,
      measured,
      limit: least,
    })
  else if (judged.grade < least.value && !inkAlone)
    found.push({
      severity: 'error',
      code: 'code-grade',
      message: `it will not scan as it should: ${numbers}; worst in ${worstOf(judged)}`,
      fix:
        patch.opacity === null
          ? 'Look at the ink of the bars, their ground and their edges.'
          : `Use a more opaque white (${Math.round(100 * patch.opacity)} % as measured now) or another hit of it, solid and without screen.`,
      measured,
      limit: least,
    })
  else if (!inkAlone)
    found.push({
      severity: judged.grade < wanted.value ? 'warning' : 'note',
      code: 'code-grade',
      message: `${numbers}; lowest in ${worstOf(judged)}`,
      fix:
        judged.grade < wanted.value
          ? 'Keep more in hand for the press: more opaque white, a larger code, or bars in full black.'
          : 'Nothing; have the printed code verified.',
      measured,
      limit: wanted,
    })
  const contrastLimit = limits('codes.contrast')
  if (judged.grade >= least.value && contrast < contrastLimit.value)
    found.push({
      severity: 'warning',
      code: 'code-contrast',
      message: `its contrast at 660 nm is ${contrast.toFixed(2)}`,
      fix: 'Use a more opaque white beneath, or a darker ink for the bars.',
      measured: { value: contrast, unit: '' },
      limit: contrastLimit,
    })
  if (patch.onMetal && patch.marginMm < needed - 1e-6 && !(judged.grade < least.value && bareMetal))
    found.push({
      severity: patch.marginMm < register ? 'error' : 'warning',
      code: 'code-white-short',
      message:
        patch.marginMm < 0
          ? 'the white beneath ends inside symbol, light margins and text'
          : `the white beneath goes on ${patch.marginMm.toFixed(2)} mm beyond symbol, light margins and text, where ${needed.toFixed(2)} mm are needed for register`,
      fix: `Make the white ${size}, with the code in its middle.`,
      measured: { value: patch.marginMm, unit: 'mm' },
      limit: limits('codes.register'),
    })
  return found
}

/** The parameter that holds most lines down. */
function worstOf({ scans }: JudgedSymbol): string {
  const sums = new Map<string, number>()
  for (const { grades } of scans)
    for (const [name, grade] of Object.entries(grades)) sums.set(name, (sums.get(name) ?? 0) + grade)
  const [name] = [...sums].reduce((least, one) => (one[1] < least[1] ? one : least))
  return words[name as keyof typeof words]
}

const words = {
  symbolContrast: 'contrast',
  modulation: 'modulation (narrow bars and spaces against wide ones)',
  defects: 'defects (holes and specks)',
  decodability: 'decodability (widths of the bars)',
  leastReflectance: 'bars that are too light',
  leastEdge: 'edges that are too weak',
} as const

function ofFlare({ map }: CheckInput, tables: Tables, core: BoxMm, limits: LimitOf): readonly Told[] {
  const tilt = limits('codes.tilt')
  const beside = limits('codes.flare-beside')
  const flare = flareOf(map, tables, core, beside.value, (tilt.value * Math.PI) / 180)
  if (flare === null) return []
  return [
    {
      severity: 'warning',
      code: 'code-flare',
      message: `a grating of ${Math.round(flare.linesPerMm)} lines/mm ${flare.under ? 'under' : 'beside'} it can throw the reader's own light into the reader (order ${flare.order}), held within ${tilt.value}° of straight-on`,
      fix: `Keep gratings near ${flare.order === 1 ? 1071 : 536} lines/mm ${beside.value} mm away from the code, or cover them with opaque white.`,
      measured: { value: flare.linesPerMm, unit: 'lines/mm' },
      limit: beside,
    },
  ]
}

function ofMatrix(
  input: CheckInput,
  tables: Tables,
  { kind, frame, reversed, modules }: FoundCode,
  tile: InkTile,
  limits: LimitOf,
): readonly Told[] {
  const [quiet] = quietModules(kind)
  const moduleMm = Math.min(frame.lengthMm / modules!.columns, frame.heightMm / modules!.rows)
  const margin = quiet * moduleMm
  const core = boxAround(cornersOf(frame, [margin, margin, margin, margin]))
  const found: Told[] = [...ofSource(tile)]
  if (reversed)
    found.push({
      severity: 'warning',
      code: 'code-reversed',
      message: 'it is light on dark, which not every reader takes',
      fix: 'Print it dark on a light ground.',
    })
  const least = limits('codes.grade')
  const ruling = limits('codes.screen-ruling').value / 10
  const light = new ReaderLight(tables, 'ring', 0)
  const surface = new ReaderSurface(input.map, tile, light, ruling)
  const dark = reversed ? modules!.dark.map(one => 1 - one) : modules!.dark
  const judged = judgeMatrix(surface, frame, { ...modules!, dark })
  const fails = judged.grade < least.value
  found.push({
    severity: fails ? 'error' : 'note',
    code: 'code-grade',
    message: `by contrast and modulation alone ${judged.report}: contrast ${judged.symbolContrast.toFixed(2)}, modulation of the worst module ${judged.modulation.toFixed(2)}, module ${judged.moduleMm.toFixed(3)} mm`,
    fix: fails
      ? 'Print it in black on a full opaque white that reaches under its light margins.'
      : 'Nothing; have the printed code verified.',
    measured: { value: judged.grade, unit: '' },
    limit: least,
  })
  return [...found, ...ofFlare(input, tables, core, limits)]
}
