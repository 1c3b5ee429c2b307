return ProtocolKit.Cli.CommandLineApp.Run(args, Console.Out, Console.Error);
