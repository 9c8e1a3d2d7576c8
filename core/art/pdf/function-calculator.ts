type Value = number | boolean
type Step = (stack: Value[]) => void

const deepestStack = 100
const mostSteps = 20_000

/**
 * Makes a run of a calculator function (type 4). Its language has no loops and no names, so it always ends. A step that
 * finds too little or the wrong thing on the stack ends the run; what is missing of the results is 0.
 * Throws what `refuse` makes of text that is no such program. Source: ISO 32000-2, 7.10.5 and table 42.
 */
export function compileCalculator(
  text: string,
  inputs: number,
  outputs: number,
  refuse: (problem: string) => Error,
): (input: ArrayLike<number>, out: Float64Array, at?: number) => Float64Array {
  const words = text.replace(/%[^\r\n]*/g, ' ').match(/[{}]|[^\s{}]+/g) ?? []
  if (words.length > mostSteps) throw refuse(`of type 4 has ${words.length} words, more than ${mostSteps}`)
  if (words[0] !== '{') throw refuse('of type 4 does not begin with {')
  const reader = { words, at: 1 }
  const steps = blockOf(reader, refuse, 0)
  return (input, out, at = 0) => {
    const stack: Value[] = []
    for (let i = 0; i < inputs; i++) stack.push(input[i]!)
    try {
      runAll(steps, stack)
    } catch (error) {
      if (!(error instanceof StackFault)) throw error
    }
    for (let i = 0; i < outputs; i++) {
      const value = stack[stack.length - outputs + i]
      out[at + i] = typeof value === 'number' ? value : value === true ? 1 : 0
    }
    return out
  }
}

class StackFault extends Error {}

function runAll(steps: readonly Step[], stack: Value[]): void {
  for (const step of steps) {
    step(stack)
    if (stack.length > deepestStack) throw new StackFault('too deep')
  }
}

interface Reader {
  readonly words: readonly string[]
  at: number
}

/** Steps up to the brace that closes the block, which was opened. */
function blockOf(reader: Reader, refuse: (problem: string) => Error, depth: number): readonly Step[] {
  if (depth > 32) throw refuse('of type 4 has blocks more than 32 deep')
  const steps: Step[] = []
  const blocks: (readonly Step[])[] = []
  for (;;) {
    const word = reader.words[reader.at++]
    if (word === undefined) throw refuse('of type 4 ends early')
    if (word === '}') break
    if (word === '{') {
      blocks.push(blockOf(reader, refuse, depth + 1))
      continue
    }
    if (word === 'if' || word === 'ifelse') {
      const no = word === 'ifelse' ? blocks.pop() : []
      const yes = blocks.pop()
      if (yes === undefined || no === undefined) throw refuse(`of type 4 has "${word}" without its blocks`)
      steps.push(stack => runAll(popTruth(stack) ? yes : no, stack))
      continue
    }
    const step = operators.get(word) ?? constant(word)
    if (step === null) throw refuse(`of type 4 has "${word}", which is no operator`)
    steps.push(step)
  }
  if (blocks.length > 0) throw refuse('of type 4 has a block that nothing runs')
  return steps
}

function constant(word: string): Step | null {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(word)) return null
  const value = Number(word)
  return stack => stack.push(value)
}

function pop(stack: Value[]): Value {
  const value = stack.pop()
  if (value === undefined) throw new StackFault('empty')
  return value
}

function popNumber(stack: Value[]): number {
  const value = pop(stack)
  if (typeof value !== 'number') throw new StackFault('no number')
  return value
}

function popTruth(stack: Value[]): boolean {
  const value = pop(stack)
  if (typeof value !== 'boolean') throw new StackFault('neither true nor false')
  return value
}

const finite = (value: number): number => (Number.isFinite(value) ? value : 0)

const one =
  (of: (x: number) => number): Step =>
  stack => {
    stack.push(finite(of(popNumber(stack))))
  }
const two =
  (of: (x: number, y: number) => number): Step =>
  stack => {
    const y = popNumber(stack)
    stack.push(finite(of(popNumber(stack), y)))
  }
const compare =
  (of: (x: number, y: number) => boolean): Step =>
  stack => {
    const y = popNumber(stack)
    stack.push(of(popNumber(stack), y))
  }
function same(stack: Value[]): boolean {
  const y = pop(stack)
  return pop(stack) === y
}
/** Of two truths, or bit by bit of two whole numbers. */
const bits =
  (truth: (x: boolean, y: boolean) => boolean, number: (x: number, y: number) => number): Step =>
  stack => {
    const y = pop(stack)
    const x = pop(stack)
    if (typeof x === 'boolean' && typeof y === 'boolean') stack.push(truth(x, y))
    else if (typeof x === 'number' && typeof y === 'number') stack.push(number(x, y))
    else throw new StackFault('unlike')
  }

const radians = Math.PI / 180
/** 0..360 degrees. */
const angle = (num: number, den: number): number => {
  const degrees = Math.atan2(num, den) / radians
  return degrees < 0 ? degrees + 360 : degrees
}

const operators: ReadonlyMap<string, Step> = new Map<string, Step>([
  ['abs', one(Math.abs)],
  ['ceiling', one(Math.ceil)],
  ['cos', one(x => Math.cos(x * radians))],
  ['cvi', one(Math.trunc)],
  ['cvr', one(x => x)],
  ['floor', one(Math.floor)],
  ['ln', one(Math.log)],
  ['log', one(Math.log10)],
  ['neg', one(x => -x)],
  ['round', one(x => Math.floor(x + 0.5))],
  ['sin', one(x => Math.sin(x * radians))],
  ['sqrt', one(x => Math.sqrt(Math.max(0, x)))],
  ['truncate', one(Math.trunc)],
  ['add', two((x, y) => x + y)],
  ['atan', two(angle)],
  ['div', two((x, y) => x / y)],
  ['exp', two((x, y) => x ** y)],
  ['idiv', two((x, y) => Math.trunc(Math.trunc(x) / Math.trunc(y)))],
  ['mod', two((x, y) => Math.trunc(x) % Math.trunc(y))],
  ['mul', two((x, y) => x * y)],
  ['sub', two((x, y) => x - y)],
  ['bitshift', two((x, shift) => (shift >= 0 ? x << shift : x >> -shift))],
  [
    'and',
    bits(
      (x, y) => x && y,
      (x, y) => x & y,
    ),
  ],
  [
    'or',
    bits(
      (x, y) => x || y,
      (x, y) => x | y,
    ),
  ],
  [
    'xor',
    bits(
      (x, y) => x !== y,
      (x, y) => x ^ y,
    ),
  ],
  [
    'not',
    stack => {
      const x = pop(stack)
      stack.push(typeof x === 'boolean' ? !x : ~x)
    },
  ],
  ['eq', stack => stack.push(same(stack))],
  ['ne', stack => stack.push(!same(stack))],
  ['ge', compare((x, y) => x >= y)],
  ['gt', compare((x, y) => x > y)],
  ['le', compare((x, y) => x <= y)],
  ['lt', compare((x, y) => x < y)],
  ['true', stack => stack.push(true)],
  ['false', stack => stack.push(false)],
  ['pop', stack => void pop(stack)],
  [
    'exch',
    stack => {
      const y = pop(stack)
      const x = pop(stack)
      stack.push(y, x)
    },
  ],
  [
    'dup',
    stack => {
      const x = pop(stack)
      stack.push(x, x)
    },
  ],
  [
    'copy',
    stack => {
      const n = counted(stack)
      stack.push(...stack.slice(stack.length - n))
    },
  ],
  [
    'index',
    stack => {
      const n = popNumber(stack)
      const value = stack[stack.length - 1 - n]
      if (n < 0 || value === undefined) throw new StackFault('no such place')
      stack.push(value)
    },
  ],
  [
    'roll',
    stack => {
      const turns = Math.trunc(popNumber(stack))
      const n = counted(stack)
      if (n === 0) return
      const part = stack.splice(stack.length - n)
      const by = ((turns % n) + n) % n
      stack.push(...part.slice(n - by), ...part.slice(0, n - by))
    },
  ],
])

/** How many values an operator takes, which must be there. */
function counted(stack: Value[]): number {
  const n = popNumber(stack)
  if (!Number.isInteger(n) || n < 0 || n > stack.length) throw new StackFault('too few')
  return n
}
