import { type Carton, cartonOf, usedSettings } from '../../core/carton/carton.ts'
import { closings } from '../../core/carton/closure.ts'
import { idleFindings } from '../../core/carton/idle.ts'
import { type Measured, measured } from '../../core/carton/measure.ts'
import {
  type Allowances,
  type Setting,
  type SettingKey,
  settingKeys,
  settings,
} from '../../core/carton/settings.ts'
import { type CartonSpec, type CartonStyle, measures } from '../../core/carton/spec.ts'
import { cartonStyles, styleNamed } from '../../core/carton/style.ts'
import { dieSvg } from '../../core/carton/svg-out.ts'
import { writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { type Command, jsonFlag } from './command.ts'
import { numberOf } from './numbers.ts'
import { counted, decimals, table } from './table.ts'

const styleNames = cartonStyles.map(style => style.name).join(', ')

export const carton: Command = {
  usage: {
    name: 'carton',
    says: 'the blank of a folding carton from its size: panels, dieline, allowances',
    operands: [],
    flags: {
      style: { value: 'NAME', says: styleNames, needed: true },
      size: {
        value: 'LxWxH',
        says: 'length along the front, width in depth, height along the body, mm',
        needed: true,
      },
      measure: { value: 'WAY', says: `what the size is of: ${measures.join(', ')}`, needed: true },
      caliper: { value: 'MM', says: 'thickness of the board', needed: true },
      glue: { value: 'MM', says: 'width of the glue flap' },
      tuck: { value: 'MM', says: 'depth of the tongue of a lid' },
      set: { value: 'NAME=MM,…', says: 'other allowances, by the names in the table' },
      code: { value: 'TEXT', says: 'what your catalogue calls it; a label, nothing follows from it' },
      svg: { value: 'FILE', says: 'write the die at true size, kinds of line as groups' },
      ...jsonFlag,
    },
  },
  async run(args, output) {
    const style = styleOf(args.need('style'))
    const spec = specOf(style, args)
    const made = cartonOf(spec)
    const target = args.value('svg')
    if (target !== undefined) await writeFileSafely(target, dieSvg(made.blank, titleOf(style, spec)))
    const sizes = measured(made.blank)
    for (const { where, message, fix } of idleFindings(spec)) output.say(`Note: ${where}: ${message}. ${fix}`)
    output.print(
      args.has('json')
        ? JSON.stringify(report(style, spec, made, sizes), null, 2)
        : page(style, spec, made, sizes),
    )
    if (target !== undefined) output.say(`Wrote ${target}.`)
  },
}

function styleOf(name: string): CartonStyle {
  const style = styleNamed(name)
  if (style !== undefined) return style
  throw new UsageError(`--style: expected ${styleNames}, got "${name}"`)
}

function specOf({ top, bottom }: CartonStyle, args: Args): CartonSpec {
  const measure = measures.find(one => one === args.need('measure'))
  if (measure === undefined)
    throw new UsageError(`--measure: expected ${measures.join(', ')}, got "${args.need('measure')}"`)
  const size = /^(-?[\d.]+)[x×](-?[\d.]+)[x×](-?[\d.]+)$/i.exec(args.need('size'))
  const [lengthMm, widthMm, heightMm] = (size ?? []).slice(1).map(Number)
  if (![lengthMm, widthMm, heightMm].every(Number.isFinite))
    throw new UsageError(`--size: expected LxWxH in mm, such as 80x45x120, got "${args.need('size')}"`)
  return {
    top,
    bottom,
    lengthMm: lengthMm!,
    widthMm: widthMm!,
    heightMm: heightMm!,
    measure,
    caliperMm: numberOf(args, 'caliper')!,
    own: ownOf(args),
    code: args.value('code') ?? '',
  }
}

function ownOf(args: Args): Partial<Allowances> {
  const own: Partial<Record<SettingKey, number>> = {}
  const give = (key: SettingKey, value: number, flag: string) => {
    if (own[key] !== undefined) throw new UsageError(`--${flag}: ${key} is given twice`)
    own[key] = value
  }
  for (const [flag, key] of [
    ['glue', 'glueMm'],
    ['tuck', 'tuckMm'],
  ] as const) {
    const value = numberOf(args, flag)
    if (value !== undefined) give(key, value, flag)
  }
  for (const part of args.value('set')?.split(',') ?? []) {
    const [, name, text] = /^\s*(\w+)\s*=\s*(-?[\d.]+)\s*$/.exec(part) ?? []
    const key = settingKeys.find(one => one === name)
    if (key === undefined || !Number.isFinite(Number(text)))
      throw new UsageError(
        `--set: expected NAME=NUMBER with a name of ${settingKeys.join(', ')}, got "${part}"`,
      )
    give(key, Number(text), 'set')
  }
  return own
}

const titleOf = (style: CartonStyle, { lengthMm, widthMm, heightMm, measure, code }: CartonSpec): string =>
  `${style.name}${code === '' ? '' : ` (${code})`}, ${lengthMm} × ${widthMm} × ${heightMm} mm ${measure}`

/** Ten thousandths of a millimetre are more than any die has. */
const round = (value: number): number => Number(value.toFixed(4))

function report(style: CartonStyle, spec: CartonSpec, made: Carton, sizes: Measured) {
  const { blank, panelWidths, allow } = made
  const { die } = blank
  const used = usedSettings(spec)
  const places = (all: readonly (readonly [number, number])[]) => all.map(([x, y]) => [round(x), round(y)])
  return {
    style: style.name,
    code: spec.code,
    ends: { top: spec.top, bottom: spec.bottom },
    size: [spec.lengthMm, spec.widthMm, spec.heightMm],
    measure: spec.measure,
    caliper: spec.caliperMm,
    panelWidths: panelWidths.map(round),
    glue: round(allow.glueMm),
    blank: [round(blank.widthMm), round(blank.heightMm)],
    outside: sizes.outside.map(round),
    inside: sizes.inside.map(round),
    findings: idleFindings(spec),
    closings: closings(made).map(({ name, apartMm }) => ({ name, apart: round(apartMm) })),
    panels: blank.panels.map(({ name, outline }) => ({ name, outline: places(outline) })),
    hinges: blank.hinges.map(({ name, parent, child, from, to, closedDeg }) => ({
      name,
      parent,
      child,
      ...{ from: places([from])[0], to: places([to])[0] },
      closedDeg: round(closedDeg),
    })),
    die: {
      lines: die.lines.map(({ kind, points }) => ({ kind, points: places(points) })),
      glue: die.glue.map(places),
      bleed: die.bleed.map(places),
    },
    allowances: Object.fromEntries(
      settingKeys.map(key => {
        const { range, unit, status, source }: Setting = settings[key]
        return [
          key,
          {
            value: round(allow[key]),
            own: spec.own[key] !== undefined,
            used: used.has(key),
            unit,
            range,
            status,
            source,
          },
        ]
      }),
    ),
  }
}

function page(style: CartonStyle, spec: CartonSpec, made: Carton, sizes: Measured): string {
  const { blank, panelWidths, allow } = made
  const mm = (value: number) => decimals(value, 2)
  const size = (of: readonly number[]) => `${of.map(mm).join(' × ')} mm`
  const head = table(
    [
      ['Outside', size(sizes.outside)],
      ['Inside', size(sizes.inside)],
      ['Corners', `close within ${mm(Math.max(...closings(made).map(one => one.apartMm)))} mm`],
      ['Blank', size([blank.widthMm, blank.heightMm])],
      ['Panels', `${panelWidths.map(mm).join(' | ')} mm, from the glue flap of ${mm(allow.glueMm)} mm on`],
    ],
    ['left', 'left'],
    2,
  )
  const panels = blank.panels.map(({ name, outline }) => {
    const span = (axis: 0 | 1) => {
      const values = outline.map(place => place[axis])
      return Math.max(...values) - Math.min(...values)
    }
    const hinge = blank.hinges.find(({ child }) => child === name)
    return [name, mm(span(0)), mm(span(1)), hinge?.parent ?? 'stays']
  })
  const used = usedSettings(spec)
  const rows = settingKeys.flatMap(key => {
    if (!used.has(key)) return []
    const { unit, status, source }: Setting = settings[key]
    return [[key, mm(allow[key]), unit, spec.own[key] === undefined ? status : 'set by you', source]]
  })
  return [
    `${titleOf(style, spec)}: ${style.says}\n${head}`,
    `${counted(panels.length, 'panel')}\n${table(
      [['Name', 'Width, mm', 'Height, mm', 'Hangs on'], ...panels],
      ['left', 'right', 'right', 'left'],
      2,
    )}`,
    `Allowances\n${table(
      [['Name', 'Value', '', 'Status', 'Source'], ...rows],
      ['left', 'right', 'left', 'left', 'left'],
      2,
    )}`,
  ].join('\n\n')
}
