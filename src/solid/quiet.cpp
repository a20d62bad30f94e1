#include "solid/quiet.hpp"

#include <Message.hxx>
#include <Message_Messenger.hxx>

namespace eyebrow {

void silence_modeller() {
  if (!Message::DefaultMessenger()->Printers().IsEmpty()) Message::DefaultMessenger()->ChangePrinters().Clear();
}

}  // namespace eyebrow
