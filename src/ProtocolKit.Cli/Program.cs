using ProtocolKit.Cli;

using var interruption = new Interruption(Console.Error);
return CommandLineApp.Run(args, Console.Out, Console.Error, interruption: interruption);
