import { PDFName } from '../../base/pdf.ts'
import { isName, type Operand } from './content.ts'
import type { ContentRun } from './content-run.ts'
import { openPattern } from './pattern.ts'
import type { ColorSpace } from './reading.ts'
import { faultOfObject } from './sheet.ts'
import type { Color } from './state.ts'

type Which = 'fill' | 'stroke'

/** Does one operator of colour (ISO 32000-2, 8.6.8); false where it is none. */
export function colorOperator(
  run: ContentRun,
  operator: string,
  operands: readonly Operand[],
): boolean | Promise<boolean> {
  const which: Which = operator === operator.toUpperCase() ? 'stroke' : 'fill'
  switch (operator) {
    case 'g':
    case 'G':
      return device(run, which, 'DeviceGray', operands)
    case 'rg':
    case 'RG':
      return device(run, which, 'DeviceRGB', operands)
    case 'k':
    case 'K':
      return device(run, which, 'DeviceCMYK', operands)
    case 'cs':
    case 'CS':
      return chooseSpace(run, which, operands[0])
    case 'sc':
    case 'SC':
    case 'scn':
    case 'SCN':
      return chooseColor(run, which, operands)
    default:
      return false
  }
}

function set(run: ContentRun, which: Which, color: Color): void {
  run.state = which === 'fill' ? { ...run.state, fill: color } : { ...run.state, stroke: color }
}

function device(run: ContentRun, which: Which, name: string, operands: readonly Operand[]): true {
  if (run.colorLocked) return true
  const space = open(run, name)
  if (space === null) return true
  const values = operands.filter(operand => typeof operand === 'number')
  set(run, which, { space, values: fitted(values, space), pattern: null })
  return true
}

function chooseSpace(run: ContentRun, which: Which, operand: Operand | undefined): true {
  if (run.colorLocked || !isName(operand)) return true
  const space = open(run, operand.name)
  if (space !== null) set(run, which, { space, values: space.initial, pattern: null })
  return true
}

function chooseColor(run: ContentRun, which: Which, operands: readonly Operand[]): true | Promise<true> {
  if (run.colorLocked) return true
  const { space } = run.state[which]
  const values = operands.filter(operand => typeof operand === 'number')
  const last = operands.at(-1)
  if (space.family !== 'Pattern') {
    set(run, which, { space, values: fitted(values, space), pattern: null })
    return true
  }
  if (!isName(last)) return true
  const under = space.under === null ? null : { space: space.under, values: fitted(values, space.under) }
  return openPattern(run, run.resource('Pattern', last.name), last.name, under).then(pattern => {
    set(run, which, { space, values, pattern })
    return true as const
  })
}

/** As many values as the space has; what is missing begins as the space does. */
const fitted = (values: readonly number[], space: ColorSpace): readonly number[] =>
  space.initial.map((initial, at) => values[at] ?? initial)

/** A space by its name; null, with a finding, where it cannot be read, and the colour stays. */
function open(run: ContentRun, name: string): ColorSpace | null {
  const { sheet, reading, setting } = run
  const object = run.resource('ColorSpace', name) ?? PDFName.of(name)
  const known = sheet.spaceOf(reading, setting.resources, object)
  if (known !== undefined) return known
  try {
    const space = sheet.openers.colorSpace(reading, object, setting.resources)
    sheet.keepSpace(reading, setting.resources, object, space)
    return space
  } catch (error) {
    const fault = faultOfObject(error)
    sheet.say(
      'colour-space-not-read',
      `colour space "${name}"`,
      `${fault.problem}; the colour before it goes on.`,
      fault.fix,
      'error',
    )
    return null
  }
}
