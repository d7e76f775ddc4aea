import arrival from './arrival';
import audit from './audit';
import cases from './case';
import count from './count';
import exchange from './exchange';
import frame from './frame';
import ledger from './ledger';
import lens from './lens';
import limit from './limit';
import makers from './makers';
import measure from './measure';
import model from './model';
import offset from './offset';
import order from './order';
import outcomes from './outcomes';
import people from './people';
import recall from './recall';
import returns from './returns';
import sign from './sign';
import today from './today';
import trade from './trade';
import transfer from './transfer';

export default {
  ...arrival,
  ...audit,
  ...cases,
  ...count,
  ...exchange,
  ...frame,
  ...ledger,
  ...lens,
  ...limit,
  ...makers,
  ...measure,
  ...model,
  ...offset,
  ...order,
  ...outcomes,
  ...people,
  ...recall,
  ...returns,
  ...sign,
  ...today,
  ...trade,
  ...transfer,
};
