import cases from './case';
import desk from './desk';
import frame from './frame';
import order from './order';
import trade from './trade';

export default { ...frame, ...trade, ...cases, ...order, ...desk };
