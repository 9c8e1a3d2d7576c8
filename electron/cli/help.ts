import { spelled, type Usage } from './args.ts'
import { table } from './table.ts'

/** What the program does, in one screen. */
export function overview(usages: readonly Usage[]): string {
  const rows = usages.map(usage => [callOf(usage), usage.says])
  return [
    'rakelight relights a holographic carton: layered art in, numbers and pictures out.',
    `Commands\n${table(rows, ['left', 'left'], 2)}`,
    `Words\n${words}`,
    'rakelight help COMMAND, or rakelight COMMAND --help, says more about one.',
  ].join('\n\n')
}

const words = table(
  [
    ['angles', 'degrees; azimuth from the panel’s right, counter-clockwise; elevation from its plane'],
    ['lengths', 'millimetres; x and y from the panel’s lower left corner, y up'],
    [
      'exit code',
      '0 done, 1 the input cannot be used, 2 the command line cannot be understood, 3 a check fails',
    ],
  ],
  ['left', 'left'],
  2,
)

/** One command: how it is called, and its flags. */
export function detail(usage: Usage): string {
  const flags = Object.entries(usage.flags).map(([name, flag]) => [
    flag.short === undefined ? '' : `-${flag.short},`,
    flag.value === null ? `--${name}` : `--${name} ${flag.value}`,
    flag.says,
  ])
  const list = flags.length === 0 ? '' : `\n\nFlags\n${table(flags, ['left', 'left', 'left'], 2)}`
  return `rakelight ${callOf(usage)}\n  ${usage.says}${list}`
}

/** The command with everything it cannot do without. */
function callOf({ name, operands, flags }: Usage): string {
  const needed = Object.entries(flags).flatMap(([flag, how]) => (how.needed ? [spelled(flag, how)] : []))
  return [name, ...operands, ...needed].join(' ')
}
