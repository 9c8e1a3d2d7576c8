import type { WhiteCoat } from '../material/map.ts'

/** Where the numbers of a white come from, in words. */
export const whiteFrom = ({ assumed, stated }: Pick<WhiteCoat, 'assumed' | 'stated'>): string =>
  !assumed ? 'entered' : stated ? 'opacity from the file, an estimate' : 'assumed'
