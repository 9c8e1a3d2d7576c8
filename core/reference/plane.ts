export { PlaneReader } from '../material/plane.ts'
