#include "postproc/commands/command_line.hpp"

int main(int argument_count, char** arguments) {
    return limbwright::postproc::run(argument_count, arguments);
}
