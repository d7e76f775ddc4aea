import cases from './case';
import count from './count';
import desk from './desk';
import frame from './frame';
import ledger from './ledger';
import model from './model';
import limit from './limit';
import offset from './offset';
import order from './order';
import sign from './sign';
import recall from './recall';
import today from './today';
import outcomes from './outcomes';
import people from './people';
import trade from './trade';
import transfer from './transfer';

export default {
  ...frame,
  ...trade,
  ...today,
  ...cases,
  ...limit,
  ...offset,
  ...order,
  ...sign,
  ...desk,
  ...ledger,
  ...outcomes,
  ...people,
  ...transfer,
  ...model,
  ...recall,
  ...count,
};
